"""Whether a peer flies the same flights as the others, within the budget."""

import numpy as np

#: Allowed at the end of a flight of up to 50 m.
PLACE = 1e-3
ENERGY = 1e-3
#: Share of flights that must keep it. A few pass the plane or the ground so
#: flatly, or tumble so wildly, that no method within reason keeps it.
SHARE = 0.975


def compared(reference, flown):
    """Distances (m), relative errors of energy, and whether all codes agree."""
    flown = flown[: len(reference)]
    place = np.linalg.norm(flown[:, 2:5] - reference[:, 2:5], axis=1)
    energy = np.abs(flown[:, 5] / reference[:, 5] - 1.0)
    inside = (place <= PLACE) & (energy <= ENERGY) & (flown[:, 0] == reference[:, 0])
    return {
        "median_mm": 1e3 * float(np.median(place)),
        "p99_mm": 1e3 * float(np.quantile(place, 0.99)),
        "p99_energy": float(np.quantile(energy, 0.99)),
        "inside": float(inside.mean()),
    }


def hits(problem, flown):
    """How many cross the plane inside the rectangle."""
    (y0, y1), (z0, z1) = problem.rectangle["y"], problem.rectangle["z"]
    y, z = flown[:, 3], flown[:, 4]
    inside = (flown[:, 0] == 1.0) & (y0 <= y) & (y <= y1) & (z0 <= z) & (z <= z1)
    return int(inside.sum())
