"""Numba, compiled and parallel: adaptive Tsitouras 5(4), one flight per task.

Faster here than a fixed step at the same error budget, and than arrays of
flights. The compiler may reorder and fuse (`fastmath`, `error_model`).
"""

import math
import os

os.environ.setdefault("NUMBA_NUM_THREADS", os.environ.get("BENCH_THREADS", "1"))
os.environ.setdefault("NUMBA_THREADING_LAYER", "workqueue")

import numba
import numpy as np

import models
from problem import DEADLINE, GROUND, PLANE
from tsit5 import ERROR, WEIGHTS
from settings import NUMBA
from worker import serve

jit = numba.njit(fastmath=True, error_model="numpy", inline="always")


@jit
def where(condition, yes, no):
    """The choice, for plain numbers."""
    return yes if condition else no


def table_curve(table):
    """The drag table for one compiled number."""
    cells = np.array(table["cells"])
    first, low, high = table["first"], table["lowest"], table["highest"]

    @jit
    def curve(x):
        m, e = math.frexp(min(max(x, low), high))
        place = 32.0 * m - 16.0
        part = int(place)
        k = (e - 1 - first) * 16 + part
        place -= part
        return ((cells[k, 3] * place + cells[k, 2]) * place + cells[k, 1]) * place + cells[k, 0]

    return curve


@jit
def cubic(theta, step, y0, f0, y1, f1):
    """Cubic through both ends of a step with their slopes."""
    s = 1.0 - theta
    rise = (1.0 + 2.0 * theta) * s * s * y0 + theta * s * s * step * f0
    return rise + theta * theta * (3.0 - 2.0 * theta) * y1 - theta * theta * s * step * f1


@jit
def root(step, y0, f0, y1, f1):
    """Share of the step at which the cubic vanishes."""
    low, high = 0.0, 1.0
    for _ in range(45):
        middle = 0.5 * (low + high)
        if (cubic(middle, step, y0, f0, y1, f1) > 0.0) == (y0 > 0.0):
            low = middle
        else:
            high = middle
    return high


def slope_of(rate, size):
    """The rate of change from array to array."""
    arguments = ", ".join(f"y[{k}]" for k in range(size))
    text = f"def slope(wind_x, wind_y, y, out):\n    r = rate(wind_x, wind_y, {arguments})\n"
    text += "".join(f"    out[{k}] = r[{k}]\n" for k in range(size))
    place = {"rate": rate}
    exec(text, place)  # noqa: S102 - the loop over the state, unrolled
    return jit(place["slope"])


def combination_of(weights, size):
    """State at a stage, unrolled."""
    terms = " + ".join(f"{w!r} * k[{j}, i]" for j, w in enumerate(weights))
    text = f"def combine(y, h, k, out):\n    for i in range({size}):\n        out[i] = y[i] + h * ({terms})\n"
    place = {}
    exec(text, place)  # noqa: S102
    return jit(place["combine"])


def prepare(problem, tolerance=None):
    """Flies draws side by side on the threads."""
    tolerance = tolerance or NUMBA[problem.name]
    curve = table_curve(problem.curve) if problem.curve else None
    size, plane, deadline = problem.moving, problem.plane, problem.deadline
    rate = models.build(problem, jit(lambda x: math.sqrt(x)), where, curve, jit)
    slope = slope_of(rate, size)
    stage1, stage2, stage3, stage4, stage5, stage6 = (
        combination_of(WEIGHTS[s], size) for s in range(1, 7)
    )
    e0, e1, e2, e3, e4, e5, e6 = ERROR
    mass, (ix, iy, iz) = problem.mass, problem.inertia

    @jit
    def error_square(y, k, h):
        total = 0.0
        part = 0.0
        for i in range(size):
            e = e0 * k[0, i] + e1 * k[1, i] + e2 * k[2, i] + e3 * k[3, i]
            e += e4 * k[4, i] + e5 * k[5, i] + e6 * k[6, i]
            if i == 3 or i == 6 or i == 10:
                part = 0.0
            part += e * e
            if i == 2 or i == 9:
                total += part
            if i == 5 or i == 12:
                total += part / (1.0 + y[i] * y[i] + y[i - 1] * y[i - 1] + y[i - 2] * y[i - 2])
        return total * h * h / (tolerance * tolerance)

    @numba.njit(fastmath=True, error_model="numpy")
    def fly_one(draw, out, room):
        y, y1, trial, k = room[7], room[8], room[9], room[:7]
        for i in range(size):
            y[i] = draw[i]
        wind_x, wind_y = draw[13], draw[14]
        spin = math.sqrt(draw[10] ** 2 + draw[11] ** 2 + draw[12] ** 2)
        time, h = 0.0, 1.0 / (50.0 + 2.0 * spin)
        slope(wind_x, wind_y, y, k[0])
        code, theta = DEADLINE, 1.0
        while time < deadline:
            h = min(h, deadline - time)
            stage1(y, h, k, trial)
            slope(wind_x, wind_y, trial, k[1])
            stage2(y, h, k, trial)
            slope(wind_x, wind_y, trial, k[2])
            stage3(y, h, k, trial)
            slope(wind_x, wind_y, trial, k[3])
            stage4(y, h, k, trial)
            slope(wind_x, wind_y, trial, k[4])
            stage5(y, h, k, trial)
            slope(wind_x, wind_y, trial, k[5])
            stage6(y, h, k, y1)
            slope(wind_x, wind_y, y1, k[6])
            error = error_square(y1, k, h)
            if error <= 1.0:
                first, second = 2.0, 2.0
                if y[0] < plane and y1[0] >= plane:
                    first = root(h, y[0] - plane, k[0, 0], y1[0] - plane, k[6, 0])
                if y[2] > 0.0 and y1[2] <= 0.0:
                    second = root(h, y[2], k[0, 2], y1[2], k[6, 2])
                theta = min(first, second)
                if theta <= 1.0:
                    code = PLANE if first <= second else GROUND
                    for i in range(size):
                        trial[i] = cubic(theta, h, y[i], k[0, i], y1[i], k[6, i])
                    time += theta * h
                    break
                time += h
                for i in range(size):
                    y[i] = y1[i]
                    k[0, i] = k[6, i]
                    trial[i] = y1[i]
            h *= min(5.0, max(0.2, 0.9 * max(error, 1e-12) ** -0.1))
        energy = 0.5 * mass * (trial[3] ** 2 + trial[4] ** 2 + trial[5] ** 2)
        if size == 13:
            energy += 0.5 * (ix * trial[10] ** 2 + iy * trial[11] ** 2 + iz * trial[12] ** 2)
        else:
            energy += 0.5 * (ix * draw[10] ** 2 + iy * draw[11] ** 2 + iz * draw[12] ** 2)
        out[0], out[1], out[2], out[3] = code, time, trial[0], trial[1]
        out[4], out[5] = trial[2], energy

    @numba.njit(parallel=True, fastmath=True, error_model="numpy")
    def fly(draws):
        results = np.empty((len(draws), 6))
        parts = 64
        for part in numba.prange(parts):
            room = np.empty((10, 13))
            for i in range(len(draws) * part // parts, len(draws) * (part + 1) // parts):
                fly_one(draws[i], results[i], room)
        return results

    return fly


if __name__ == "__main__":
    serve(prepare, 20_000)
