"""The C kernel, called in place: the mark of the machine.

`BENCH_LANES` 1 is the plain loop over one flight, 8 the vectorised one (16,
two registers at a time, is slower here).
"""

import ctypes
import os
import subprocess
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np

from settings import C
from worker import serve, threads

FAMILY = {"sphere": 0, "plate": 1, "rod": 2, "bare": 3}
FLAGS = "-O3 -march=native -ffast-math -mprefer-vector-width=512 -Wno-psabi -shared -fPIC".split()
COMMON = "per_mass weight per_x per_y per_z gyro_x gyro_y gyro_z".split()
MODEL = {
    "sphere": "reynolds drag".split(),
    "rod": "reynolds across strip damping end skin nose half".split(),
    "bare": "normal chord damp_x damp_y damp_z".split(),
    "plate": (
        "slope per_stall normal face_on lead_x lead_y friction edge_x edge_y tip_x tip_y "
        "lift_x lift_y torque_x torque_y roll_x roll_y spin radius"
    ).split(),
}


class Constants(ctypes.Structure):
    """`struct constants` of kernel.c."""

    _fields_ = [
        ("common", ctypes.c_double * 8),
        ("model", ctypes.c_double * 24),
        ("mass", ctypes.c_double),
        ("inertia", ctypes.c_double * 3),
        ("plane", ctypes.c_double),
        ("deadline", ctypes.c_double),
        ("tolerance", ctypes.c_double),
        ("lowest", ctypes.c_double),
        ("highest", ctypes.c_double),
        ("first", ctypes.c_int64),
        ("cells", ctypes.c_void_p),
    ]


def compiled(family, lanes):
    """The kernel for a family, compiled once."""
    source = Path(__file__).with_name("kernel.c")
    home = Path(os.environ.get("BENCH_HOME", "/tmp"))
    library = home / f"kernel-{family}-{lanes}.so"
    if not library.exists() or library.stat().st_mtime < source.stat().st_mtime:
        choice = [f"-DFAMILY={FAMILY[family]}", f"-DLANES={lanes}"]
        command = [os.environ.get("CC", "cc"), *FLAGS, *choice, str(source), "-lm"]
        subprocess.run([*command, "-o", str(library)], check=True)
    kernel = ctypes.CDLL(str(library))
    kernel.fly.restype = ctypes.c_int64
    kernel.fly.argtypes = [ctypes.c_void_p, ctypes.c_void_p, ctypes.c_int64, ctypes.c_void_p]
    return kernel


def prepare(problem, tolerance=None, lanes=None):
    """Flies draws in parts, one part after the other on each thread."""
    tolerance = tolerance or C[problem.name]
    lanes = lanes or int(os.environ.get("BENCH_LANES", "8"))
    kernel = compiled(problem.family, lanes)
    told = dict(problem.constants)
    if "stall" in told:
        told["per_stall"] = 1.0 / told["stall"]
    constants = Constants()
    constants.common[:] = [told[name] for name in COMMON]
    model = [told[name] for name in MODEL[problem.family]]
    constants.model[: len(model)] = model
    constants.mass, constants.inertia[:] = problem.mass, problem.inertia
    constants.plane, constants.deadline = problem.plane, problem.deadline
    constants.tolerance = tolerance
    if problem.curve:
        cells = np.array(problem.curve["cells"])
        constants.cells = cells.ctypes.data
        constants.keep = cells
        constants.first = problem.curve["first"]
        constants.lowest, constants.highest = problem.curve["lowest"], problem.curve["highest"]
    pool = ThreadPoolExecutor(threads()) if threads() > 1 else None

    def part(draws, results):
        data = draws.ctypes.data, len(draws), results.ctypes.data
        return kernel.fly(ctypes.addressof(constants), *data)

    def fly(draws):
        results = np.empty((len(draws), 6))
        parts = [(draws[i : i + 1000], results[i : i + 1000]) for i in range(0, len(draws), 1000)]
        if pool:
            fly.turns = sum(pool.map(lambda both: part(*both), parts))
        else:
            fly.turns = sum(part(*both) for both in parts)
        return results

    return fly


if __name__ == "__main__":
    serve(prepare, 20_000)
