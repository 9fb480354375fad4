"""The setting of each peer for each problem: the loosest within the budget.

Found by trying decades (and halves for the plate); `compare.py` checks every
time that each of them keeps the budget, before any time is taken.
"""

#: Tolerances (relative and absolute).
SCIPY = {"plate": ("RK45", 5e-7), "sphere": ("RK45", 1e-4), "rod": ("RK45", 1e-4)}
#: Step in s.
NUMPY = {"plate": 0.004, "sphere": 0.25, "rod": 0.04}
#: Adaptive Tsitouras 5(4) with the engine's measure of the error.
NUMBA = {"plate": 1e-6, "sphere": 1e-4, "rod": 1e-4}
JAX = {"plate": 1e-6, "sphere": 1e-4, "rod": 1e-4}
C = {"plate": 1e-6, "sphere": 1e-4, "rod": 1e-4}
RUST = {
    "ode_solvers": {"plate": 5e-7, "sphere": 1e-4, "rod": 1e-4},
    "differential_equations": {"plate": 5e-7, "sphere": 3e-6, "rod": 3e-5},
}
