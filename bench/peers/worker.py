"""How a peer takes orders: one line in, one line out.

    fly FIRST COUNT FILE    fly these draws and write their results
    time SECONDS            fly for so many CPU-seconds and tell how many

A peer flies the same draws over and over while it is timed.
"""

import json
import os
import resource
import sys
import time

import numpy as np

from problem import Problem


def threads():
    """How many threads the peer may use."""
    return int(os.environ.get("BENCH_THREADS", "1"))


def serve(prepare, chunk):
    """Answers orders until the input ends.

    `prepare(problem)` gives `fly(draws) -> results`; `chunk` is how many draws
    it likes at a time.
    """
    problem = Problem(sys.argv[1])
    fly = prepare(problem)
    draws = problem.draws
    fly(draws[:chunk])  # compile, fill caches
    print(json.dumps({"ready": True}), flush=True)
    for line in sys.stdin:
        words = line.split()
        if words[0] == "fly":
            first, count = int(words[1]), int(words[2])
            parts = [
                fly(draws[at : min(at + chunk, first + count)])
                for at in range(first, first + count, chunk)
            ]
            np.concatenate(parts).astype(np.float64).tofile(words[3])
            answer = {"flown": count}
        else:
            answer = timed(fly, draws, chunk, float(words[1]))
        print(json.dumps(answer), flush=True)


def timed(fly, draws, chunk, seconds):
    """Flies for so many CPU-seconds."""
    flights, at = 0, 0
    cpu, wall = time.process_time(), time.perf_counter()
    while time.process_time() - cpu < seconds:
        part = draws[at : at + chunk]
        fly(part)
        flights += len(part)
        at = (at + chunk) % len(draws)
    return {
        "flights": flights,
        "cpu": time.process_time() - cpu,
        "wall": time.perf_counter() - wall,
        "peak_kib": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss,
    }
