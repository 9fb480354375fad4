"""NumPy, many flights per array: classical Runge-Kutta with a fixed step.

Flights that are over leave the batch. The step is the longest within the error
budget for each problem.
"""

import numpy as np

import models
from problem import DEADLINE, GROUND, PLANE
from settings import NUMPY
from worker import serve

#: Flights per batch: what stays in the cache and hides the interpreter.
BATCH = 1024


def array_curve(table):
    """The drag table for an array."""
    cells = np.array(table["cells"])
    coefficients = [np.ascontiguousarray(cells[:, k]) for k in range(4)]
    first, low, high = table["first"], table["lowest"], table["highest"]

    def curve(x):
        m, e = np.frexp(np.clip(x, low, high))
        place = 32.0 * m - 16.0
        part = place.astype(np.int64)
        cell = (e - 1 - first) * 16 + part
        place -= part
        a, b, c, d = (k[cell] for k in coefficients)
        return ((d * place + c) * place + b) * place + a

    return curve


def hermite(theta, step, y0, f0, y1, f1):
    """Cubic through both ends of a step with their slopes."""
    s = 1.0 - theta
    return (
        (1.0 + 2.0 * theta) * s * s * y0
        + theta * s * s * step * f0
        + theta * theta * (3.0 - 2.0 * theta) * y1
        - theta * theta * s * step * f1
    )


def root(step, y0, f0, y1, f1):
    """Share of the step at which the cubic vanishes, by bisection."""
    low, high = np.zeros_like(y0), np.ones_like(y0)
    before = y0 > 0.0
    for _ in range(45):
        middle = 0.5 * (low + high)
        same = (hermite(middle, step, y0, f0, y1, f1) > 0.0) == before
        low, high = np.where(same, middle, low), np.where(same, high, middle)
    return high


def prepare(problem, step=None):
    """Flies draws batch by batch."""
    step = step or NUMPY[problem.name]
    curve = array_curve(problem.curve) if problem.curve else None
    rate = models.build(problem, np.sqrt, np.where, curve)
    size, plane = problem.moving, problem.plane

    def slope(y, wind):
        out = np.empty_like(y)
        for row, value in zip(out, rate(wind[0], wind[1], *y)):
            row[:] = value
        return out

    def finish(results, who, code, time, y, draws):
        rates = y[10:13] if size == 13 else draws[who, 10:13].T
        energy = problem.energy((y[3:6] ** 2).sum(axis=0), rates**2)
        results[who] = np.stack([np.full(len(who), code), time, y[0], y[1], y[2], energy], axis=1)

    def fly(draws):
        results = np.zeros((len(draws), 6))
        who = np.arange(len(draws))
        y, wind = draws[:, :size].T.copy(), draws[:, 13:15].T.copy()
        f, time = slope(y, wind), 0.0
        while len(who) and time < problem.deadline:
            h = min(step, problem.deadline - time)
            b = slope(y + 0.5 * h * f, wind)
            c = slope(y + 0.5 * h * b, wind)
            d = slope(y + h * c, wind)
            y1 = y + (h / 6.0) * (f + 2.0 * (b + c) + d)
            f1 = slope(y1, wind)
            crossed, landed = (y[0] < plane) & (y1[0] >= plane), (y[2] > 0.0) & (y1[2] <= 0.0)
            over = crossed | landed
            if over.any():
                k = np.flatnonzero(over)
                parts = (y[:, k], f[:, k], y1[:, k], f1[:, k])
                first = np.where(crossed[k], root(h, parts[0][0] - plane, parts[1][0], parts[2][0] - plane, parts[3][0]), 2.0)
                second = np.where(landed[k], root(h, parts[0][2], parts[1][2], parts[2][2], parts[3][2]), 2.0)
                theta = np.minimum(first, second)
                state = hermite(theta, h, *parts)
                for code, which in ((PLANE, first <= second), (GROUND, first > second)):
                    finish(results, who[k[which]], code, time + theta[which] * h, state[:, which], draws)
                keep = ~over
                who, wind = who[keep], wind[:, keep]
                y1, f1 = y1[:, keep], f1[:, keep]
            y, f, time = y1, f1, time + h
        finish(results, who, DEADLINE, np.full(len(who), time), y, draws)
        return results

    return fly


if __name__ == "__main__":
    serve(prepare, BATCH)
