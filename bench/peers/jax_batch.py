"""JAX on the CPU, compiled: a batch of flights, each with its own step.

Adaptive Tsitouras 5(4) under a mask, double precision, until the last flight
of the batch is over; the interpolation at the end is done once per flight.
"""

import os

count = os.environ.get("BENCH_THREADS", "1")
flags = "--xla_cpu_multi_thread_eigen=false intra_op_parallelism_threads=1" if count == "1" else ""
os.environ.setdefault("XLA_FLAGS", flags)
os.environ.setdefault("JAX_PLATFORMS", "cpu")
os.environ.setdefault("JAX_ENABLE_X64", "1")

import jax
import jax.numpy as jnp
import numpy as np

import models
from problem import DEADLINE, GROUND, PLANE
from tsit5 import ERROR, WEIGHTS
from settings import JAX
from worker import serve

#: Flights per batch.
BATCH = 1024


def array_curve(table):
    """The drag table for an array."""
    cells = jnp.array(table["cells"])
    first, low, high = table["first"], table["lowest"], table["highest"]

    def curve(x):
        bits = jax.lax.bitcast_convert_type(jnp.clip(x, low, high), jnp.int64)
        cell = (bits >> 48) - ((1023 + first) << 4)
        below = (bits & ((1 << 48) - 1)) | (1023 << 52)
        place = (jax.lax.bitcast_convert_type(below, jnp.float64) - 1.0) * 16.0
        a, b, c, d = (cells[cell, k] for k in range(4))
        return ((d * place + c) * place + b) * place + a

    return curve


def cubic(theta, step, y0, f0, y1, f1):
    """Cubic through both ends of a step with their slopes."""
    s = 1.0 - theta
    rise = (1.0 + 2.0 * theta) * s * s * y0 + theta * s * s * step * f0
    return rise + theta * theta * (3.0 - 2.0 * theta) * y1 - theta * theta * s * step * f1


def root(step, y0, f0, y1, f1):
    """Share of the step at which the cubic vanishes, by bisection."""

    def halve(_, ends):
        low, high = ends
        middle = 0.5 * (low + high)
        same = (cubic(middle, step, y0, f0, y1, f1) > 0.0) == (y0 > 0.0)
        return jnp.where(same, middle, low), jnp.where(same, high, middle)

    ends = (jnp.zeros_like(y0), jnp.ones_like(y0))
    return jax.lax.fori_loop(0, 45, halve, ends)[1]


def prepare(problem, tolerance=None):
    """Flies draws batch by batch."""
    tolerance = tolerance or JAX[problem.name]
    curve = array_curve(problem.curve) if problem.curve else None
    rate = models.build(problem, jnp.sqrt, jnp.where, curve)
    size, plane, deadline = problem.moving, problem.plane, problem.deadline
    places = ((0, 3, 0), (3, 6, 3), (6, 10, 0), (10, 13, 10))

    def error_square(y, k, h):
        rows = [sum(w * stage[i] for w, stage in zip(ERROR, k)) for i in range(size)]
        total = 0.0
        for start, end, scale in places:
            if start < size:
                part = sum(row * row for row in rows[start:end])
                if scale:
                    part = part / (1.0 + sum(y[i] * y[i] for i in range(start, end)))
                total = total + part
        return total * (h * h) / (tolerance * tolerance)

    def turn(carry):
        y, f, time, h, over, last, wind = carry
        k = [f]
        for weights in WEIGHTS[1:]:
            y1 = [y[i] + h * sum(w * s[i] for w, s in zip(weights, k)) for i in range(size)]
            # Without this the compiler computes earlier stages again in later ones.
            k.append(jax.lax.optimization_barrier(rate(wind[0], wind[1], *y1)))
        error = error_square(y1, k, h)
        taken = (error <= 1.0) & ~over
        met = (y[0] < plane) & (y1[0] >= plane) | (y[2] > 0.0) & (y1[2] <= 0.0)
        ends = taken & (met | (time + h >= deadline))
        factor = jnp.clip(0.9 * jnp.maximum(error, 1e-12) ** -0.1, 0.2, 5.0)
        keep = taken & ~ends
        pick = lambda new, old: tuple(jnp.where(keep, a, b) for a, b in zip(new, old))
        # A flight that is over keeps both ends of its last step.
        note = lambda new, old: tuple(jnp.where(ends, a, b) for a, b in zip(new, old))
        last = (note(y1, last[0]), note(k[6], last[1]))
        time = jnp.where(keep, time + h, time)
        h = jnp.where(over | ends, h, jnp.minimum(h * factor, deadline - time))
        return pick(y1, y), pick(k[6], f), time, h, over | ends, last, wind

    @jax.jit
    def fly(draws):
        rows = tuple(draws[:, i] for i in range(15))
        y, wind = rows[:size], rows[13:]
        spin = jnp.sqrt(rows[10] ** 2 + rows[11] ** 2 + rows[12] ** 2)
        f = tuple(jnp.broadcast_to(r, rows[0].shape) for r in rate(wind[0], wind[1], *y))
        carry = (y, f, jnp.zeros_like(spin), 1.0 / (50.0 + 2.0 * spin), spin < 0.0, (y, f), wind)
        carry = jax.lax.while_loop(lambda c: ~jnp.all(c[4]), turn, carry)
        y, f, time, h, _, (y1, f1), _ = carry
        crossed, landed = (y[0] < plane) & (y1[0] >= plane), (y[2] > 0.0) & (y1[2] <= 0.0)
        first = jnp.where(crossed, root(h, y[0] - plane, f[0], y1[0] - plane, f1[0]), 2.0)
        second = jnp.where(landed, root(h, y[2], f[2], y1[2], f1[2]), 2.0)
        theta = jnp.minimum(jnp.minimum(first, second), 1.0)
        code = jnp.where(first <= second, PLANE, GROUND)
        code = jnp.where(crossed | landed, code, DEADLINE)
        end = [cubic(theta, h, *parts) for parts in zip(y, f, y1, f1)]
        rates = end[10:13] if size == 13 else rows[10:13]
        energy = problem.energy(sum(v * v for v in end[3:6]), [w * w for w in rates])
        return jnp.stack([code, time + theta * h, end[0], end[1], end[2], energy], axis=1)

    def whole(draws):
        missing = BATCH - len(draws)
        padded = np.concatenate([draws, draws[:1].repeat(missing, 0)]) if missing else draws
        return np.asarray(fly(padded))[: len(draws)]

    return whole


if __name__ == "__main__":
    serve(prepare, BATCH)
