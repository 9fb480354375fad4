"""One problem as every peer reads it: constants, a drag table, and draws.

A problem is a folder written by the engine's own `draws` program, so that all
peers fly the same flights: `problem.json`, and `draws.f64` with one row of
numbers per flight (13 of state, 2 of wind).
"""

import json
from pathlib import Path

import numpy as np

#: Numbers per draw: position, velocity, attitude (x, y, z, w), rates, wind.
COLUMNS = 15
#: What a flight leaves behind.
RESULT = ("code", "time", "x", "y", "z", "energy")
#: Codes: why a flight ended.
DEADLINE, PLANE, GROUND = 0.0, 1.0, 2.0


class Problem:
    """A problem read from its folder."""

    def __init__(self, folder):
        told = json.loads((Path(folder) / "problem.json").read_text())
        self.name = told["name"]
        self.family = told["family"]
        self.mass = told["mass"]
        self.inertia = told["inertia"]
        self.plane = told["plane"]
        self.deadline = told["deadline"]
        self.rectangle = told["rectangle"]
        self.constants = told["constants"]
        self.curve = told.get("curve")
        self.draws = np.fromfile(Path(folder) / "draws.f64").reshape(-1, COLUMNS)
        #: Numbers of the state that move: a ball's attitude does not matter.
        self.moving = 6 if self.family == "sphere" else 13

    def energy(self, velocity_square, rates_square):
        """Kinetic energy; `rates_square`: the squares of the three rates."""
        turning = sum(i * w for i, w in zip(self.inertia, rates_square))
        return 0.5 * self.mass * velocity_square + 0.5 * turning
