"""Every program on the same work, side by side, in one run.

Started by `bench/compare`, which builds what is needed. First every peer's
flights are held against a reference (SciPy DOP853 at 1e-11) and its hits
against the engine's stepper on the same draws; where one is off, nothing is
timed. Then all are timed in turns, block after block, so that a slow minute of
the machine hits all of them.
"""

import argparse
import hashlib
import json
import os
import platform
import statistics
import subprocess
import sys
import time
from pathlib import Path

import numpy as np

import scipy_one
import settings
from agreement import SHARE, compared, hits
from flops import flops
from problem import Problem

ROOT = Path(__file__).resolve().parents[2]
PEERS = Path(__file__).resolve().parent
HOME = Path(os.environ["BENCH_HOME"])
TARGET = Path(os.environ["BENCH_TARGET"])
PROBLEMS = ("plate", "sphere", "rod")
#: Flights held against the reference.
CHECKED = 300
CORES = os.cpu_count() or 1


class Peer:
    """A program that takes orders."""

    def __init__(self, name, title, count, command, lanes=None):
        self.name, self.title, self.count = name, title, count
        self.command, self.lanes = command, lanes

    def start(self, problem, threads=1):
        """A running one."""
        environment = {**os.environ, "BENCH_THREADS": str(threads)}
        names = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")
        environment.update({name: str(threads) for name in names})
        if self.lanes:
            environment["BENCH_LANES"] = str(self.lanes)
        pin = ["taskset", "-c", str(CORES - 1)] if threads == 1 else []
        command = [*pin, *self.command(problem)]
        return Running(command, environment, self.name)


class Running:
    """A peer at work."""

    def __init__(self, command, environment, name):
        pipe = subprocess.PIPE
        self.name = name
        self.process = subprocess.Popen(
            command, env=environment, stdin=pipe, stdout=pipe, text=True, cwd=PEERS
        )
        self.answer()

    def answer(self):
        """The next line that it says."""
        line = self.process.stdout.readline()
        if not line:
            sys.exit(f"{self.name} stopped: see its message above")
        return json.loads(line)

    def ask(self, order):
        """An order and its answer."""
        self.process.stdin.write(order + "\n")
        self.process.stdin.flush()
        return self.answer()

    def landings(self, count):
        """The results of the first draws."""
        file = HOME / f"landings-{self.name}.f64"
        self.ask(f"fly 0 {count} {file}")
        return np.fromfile(file).reshape(-1, 6)

    def close(self):
        """The end of it."""
        self.process.stdin.close()
        self.process.wait()


def python(script):
    """A peer in Python."""
    return lambda problem: [sys.executable, script, str(HOME / problem)]


def rust(package):
    """A peer in Rust."""
    program = str(HOME / "rust/release/longodds-peers")
    choice = settings.RUST[package]
    return lambda problem: [program, str(HOME / problem), package, str(choice[problem])]


def ours(which, *more):
    """Our own."""
    program = str(TARGET / "release/ours")
    scenario = ROOT / "bench/problems"
    return lambda problem: [program, str(scenario / f"{problem}.yaml"), which, *more]


ALL = [
    Peer("engine", "**longodds, the whole engine**", 0, ours("engine")),
    Peer("kernel", "longodds, the stepper alone", 20_000, ours("kernel")),
    Peer("scipy", "SciPy `solve_ivp`, one by one", CHECKED, python("scipy_one.py")),
    Peer("numpy", "NumPy, vectorised", 1024, python("numpy_batch.py")),
    Peer("jax", "JAX on the CPU", 1024, python("jax_batch.py")),
    Peer("numba", "Numba, parallel", 20_000, python("numba_parallel.py")),
    Peer("ode_solvers", "Rust `ode_solvers` under rayon", 20_000, rust("ode_solvers")),
    Peer(
        "differential_equations",
        "Rust `differential-equations` under rayon",
        20_000,
        rust("differential_equations"),
    ),
    Peer("c", "C at -O3, one by one", 20_000, python("c_kernel.py"), lanes=1),
    Peer("c_lanes", "C at -O3, vectorised: the mark", 20_000, python("c_kernel.py"), lanes=8),
]
#: Our stepper with the least right-hand side, at the sheet's tolerance.
BARE = Peer("bare", "bare stepper, simplest plate, 1e-5", 0, ours("bare", "1e-5"))


def reference(problem):
    """The flights that all are held against, computed once per set of draws."""
    models = Path(__file__).with_name("models.py").read_bytes()
    constants = json.dumps(problem.constants).encode()
    mark = hashlib.sha256(problem.draws.tobytes() + constants + models)
    file = HOME / f"reference-{problem.name}-{mark.hexdigest()[:12]}.npy"
    if not file.exists():
        fly = scipy_one.prepare(problem, "DOP853", 1e-11)
        np.save(file, fly(problem.draws[:CHECKED]))
    return np.load(file)


def check(name, peers):
    """Holds every peer's flights and hits against the others; stops if off."""
    problem = Problem(HOME / name)
    wanted, found, wrong = reference(problem), {}, []
    stepper = None
    for peer in peers:
        if not peer.count:
            continue
        running = peer.start(name)
        flown = running.landings(peer.count)
        running.close()
        told = compared(wanted, flown)
        stepper = flown if peer.name == "kernel" else stepper
        mine, theirs = hits(problem, flown), hits(problem, stepper[: len(flown)])
        told["hits"], told["flights"] = mine, len(flown)
        found[peer.name] = told
        print(
            f"  {peer.name:<24} {100 * told['inside']:6.2f} % inside the budget, median "
            f"{told['median_mm']:.4f} mm, 99 % {told['p99_mm']:.3f} mm, energy "
            f"{100 * told['p99_energy']:.4f} %, hits {mine} (stepper {theirs}) of {len(flown)}",
            flush=True,
        )
        if told["inside"] < SHARE:
            wrong.append(f"{peer.name}: only {100 * told['inside']:.1f} % inside the budget")
        if abs(mine - theirs) > max(2, 0.001 * len(flown)):
            wrong.append(f"{peer.name}: {mine} hits where the stepper has {theirs}")
    if wrong:
        sys.exit(f"{name}: no agreement, nothing timed\n  " + "\n  ".join(wrong))
    return found


def peak():
    """GFLOP/s of one core."""
    program = [str(HOME / "peak")]
    pinned = ["taskset", "-c", str(CORES - 1), *program]
    return float(subprocess.run(pinned, check=True, capture_output=True, text=True).stdout)


def timed(name, peers, options):
    """Blocks of every peer in turns: rate per CPU-second of each block."""
    running = {peer.name: peer.start(name) for peer in peers}
    blocks = {peer.name: [] for peer in peers}
    for number in range(options.repeats):
        for peer in peers:
            blocks[peer.name].append(running[peer.name].ask(f"time {options.seconds}"))
        print(f"  block {number + 1} of {options.repeats}", flush=True)
    for one in running.values():
        one.close()
    return blocks


def rates(blocks):
    """Flights per CPU-second of each block."""
    return [block["flights"] / block["cpu"] for block in blocks]


def scaling(peers, options):
    """Flights per second of wall time with 1, 2, 4 ... all threads, plate."""
    steps = sorted({*[2**k for k in range(12) if 2**k < CORES], CORES})
    table = {}
    for peer in peers:
        running = {n: peer.start("plate", n) for n in steps}
        walls = {n: [] for n in steps}
        for _ in range(options.repeats):
            for n in steps:
                told = running[n].ask(f"time {options.seconds * n}")
                walls[n].append(told["flights"] / told["wall"])
        for one in running.values():
            one.close()
        table[peer.name] = {n: statistics.median(walls[n]) for n in steps}
        print(f"  {peer.name}: {table[peer.name]}", flush=True)
    return table


def spread(values):
    """Median with the lowest and the highest."""
    return statistics.median(values), min(values), max(values)


def figure(value):
    """Three significant digits."""
    return f"{float(f'{value:.3g}'):,.12g}"


def of(values):
    """Median (lowest to highest)."""
    middle, low, high = spread(values)
    return f"{figure(middle)} ({figure(low)} to {figure(high)})"


def processor():
    """Its name."""
    try:
        lines = Path("/proc/cpuinfo").read_text().splitlines()
        return next(line.split(":")[1].strip() for line in lines if line.startswith("model name"))
    except (OSError, StopIteration):
        return platform.processor() or "unknown"


def ratio(ours_, theirs):
    """Block by block."""
    return [a / b for a, b in zip(rates(ours_), rates(theirs))]


def report(agreement, blocks, scale, peaks, bare):
    """The tables, as Markdown."""
    lines = [
        "# Benchmark",
        "",
        f"`bench/compare`, {time.strftime('%Y-%m-%d')}, {processor()}, {CORES} cores, "
        f"{platform.system()} {platform.machine()}.",
        "",
        "Same draws, same equations of motion, same budget: 1 mm at the end of the flight and",
        "0.1 % of its energy, held against SciPy DOP853 at 1e-11 before any time is taken. Rates",
        "are per CPU-second of one pinned core; ratios are the engine's rate over the peer's,",
        "block by block: median (lowest to highest). The engine draws, releases, flies, finds the",
        "first touch, walks the gates and tallies; the peers run bare loops over draws made",
        "beforehand.",
    ]
    for name, told in blocks.items():
        lines += ["", f"## {name}", ""]
        lines += ["| program | flights per CPU-second | the engine is × faster | in the budget |"]
        lines += ["|---|---|---|---|"]
        for peer in ALL:
            if peer.name not in told:
                continue
            inside = agreement[name].get(peer.name)
            share = f"{100 * inside['inside']:.1f} %" if inside else ""
            times = "" if peer.name == "engine" else of(ratio(told["engine"], told[peer.name]))
            lines.append(f"| {peer.title} | {of(rates(told[peer.name]))} | {times} | {share} |")
        engine = told["engine"]
        side, step = flops(Problem(HOME / name))
        per = [b["evaluations"] / 6 * step / b["cpu"] * 1e-9 for b in engine]
        alone = [b["evaluations"] / 6 * step / b["cpu"] * 1e-9 for b in told["kernel"]]
        share = [100 * p / m for p, m in zip(per, peaks)]
        alone = [100 * p / m for p, m in zip(alone, peaks)]
        evaluations = engine[-1]["evaluations"] / engine[-1]["flights"]
        claims = sum(b["hits"] for b in engine) / sum(b["flights"] for b in engine)
        memory = {key: told[key][-1]["peak_kib"] / 1024 for key in told}
        lines += [
            "",
            f"{side} floating-point operations a right-hand side, {step} a step of six; "
            f"{evaluations:.0f} right-hand sides a flight. Share of the measured peak: engine "
            f"{of(share)} %, stepper alone {of(alone)} %. Strikes of the real shape: "
            f"{claims:.4f} of the engine's flights.",
            "",
            "Largest memory in MiB: "
            + ", ".join(f"{key} {value:.0f}" for key, value in memory.items())
            + ".",
        ]
    grown = 1024 * (blocks["plate"]["engine"][-1]["peak_kib"] - blocks["plate"]["engine"][0]["peak_kib"])
    flown = sum(b["flights"] for b in blocks["plate"]["engine"][1:])
    lines += ["", "## Scaling, plate: flights per second of wall time", ""]
    threads = list(next(iter(scale.values())))
    lines += ["| program | " + " | ".join(f"{n}" for n in threads) + " | per core at all |"]
    lines += ["|---" * (len(threads) + 2) + "|"]
    for name, row in scale.items():
        per_core = row[threads[-1]] / row[threads[0]] / threads[-1] * threads[0]
        cells = " | ".join(figure(row[n]) for n in threads)
        lines.append(f"| {name} | {cells} | {per_core:.3f} |")
    lines += ["", f"Peak of one core, measured in this run: {of(peaks)} GFLOP/s (f64, fused).", ""]
    lines += [f"Bytes of memory per further flight, engine: {grown / flown:.4f}.", ""]
    lines += targets(blocks["plate"], scale, peaks, bare)
    return "\n".join(lines) + "\n"


def targets(told, scale, peaks, bare):
    """What has to be reached, and what was."""
    engine = told["engine"]
    step = flops(Problem(HOME / "plate"))[1]
    share = [100 * b["evaluations"] / 6 * step / b["cpu"] * 1e-9 / p for b, p in zip(engine, peaks)]
    packages = ("ode_solvers", "differential_equations")
    package = max(packages, key=lambda k: statistics.median(rates(told[k])))
    row = scale["engine"]
    cores = max(row)
    rows = [
        ("times SciPy, one by one", ratio(engine, told["scipy"]), 2000),
        ("times NumPy", ratio(engine, told["numpy"]), 45),
        ("times Numba", ratio(engine, told["numba"]), 6),
        ("times the fastest Rust package", ratio(engine, told[package]), 3),
        ("% of the measured peak", share, 15),
        ("scaling per core", [row[cores] / row[1] / cores], 0.95),
        ("of the bare stepper", ratio(engine, bare), 0.5),
    ]
    lines = ["## Targets, plate", "", "| the engine | measured | wanted | |", "|---|---|---|---|"]
    for name, values, wanted in rows:
        mark = "reached" if statistics.median(values) >= wanted else "**not reached**"
        lines.append(f"| {name} | {of(values)} | {wanted} | {mark} |")
    return lines


def main():
    """The whole comparison."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--repeats", type=int, default=5)
    parser.add_argument("--seconds", type=float, default=1.0)
    parser.add_argument("--problems", nargs="+", default=list(PROBLEMS), choices=PROBLEMS)
    parser.add_argument("--check-only", action="store_true")
    parser.add_argument("--into", default=str(ROOT / "bench/RESULTS.md"))
    options = parser.parse_args()
    agreement = {}
    for name in options.problems:
        print(f"{name}: do they fly the same?", flush=True)
        agreement[name] = check(name, ALL)
    if options.check_only:
        return
    blocks, bare = {}, []
    for name in options.problems:
        print(f"{name}: timing", flush=True)
        peers = [*ALL, BARE] if name == "plate" else ALL
        blocks[name] = timed(name, peers, options)
        bare = blocks[name].pop("bare", bare)
    peaks = [peak() for _ in range(options.repeats)]
    print("scaling", flush=True)
    names = ("engine", "kernel", "numba", "ode_solvers", "c_lanes")
    scale = scaling([peer for peer in ALL if peer.name in names], options)
    text = report(agreement, blocks, scale, peaks, bare)
    Path(options.into).write_text(text)
    print(text)


if __name__ == "__main__":
    main()
