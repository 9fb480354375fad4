"""Floating-point operations of the engine's step, counted on numbers that count.

Every addition, subtraction, multiplication, division and square root is one; a
comparison, a choice, a sign, an absolute value and a table's look-up are none.
"""

import models
from tsit5 import ERROR, WEIGHTS


class Counted:
    """A number that counts what is done with it."""

    done = 0

    def __init__(self, value):
        self.value = value

    def _operation(self, other):
        Counted.done += 1
        return Counted(1.0)

    __add__ = __radd__ = __sub__ = __rsub__ = __mul__ = __rmul__ = _operation
    __truediv__ = __rtruediv__ = _operation

    def __neg__(self):
        return self

    __abs__ = __neg__

    def __lt__(self, other):
        return False


def counted_curve(x):
    """A cubic, and three operations to find its place."""
    Counted.done += 9
    return Counted(1.0)


def flops(problem):
    """Operations of a right-hand side, and of one whole step of six of them."""
    rate = models.build(problem, lambda x: x + x, lambda c, a, b: a, counted_curve)
    size = problem.moving
    Counted.done = 0
    rate(*[Counted(1.0) for _ in range(2 + size)])
    side = Counted.done
    # A stage of n earlier ones: n products, n - 1 sums, then times h plus y.
    stages = sum(size * (2 * len(row) + 1) for row in WEIGHTS[1:])
    error = size * (2 * len(ERROR) - 1 + 2) + 20
    return side, 6 * side + stages + error
