"""Shots weighed against a barrier's strength, on a fine grid of its own.

Writes judgement.csv: for 25 logs of shots and three priors of the strength that
half of the blows go through at, the chance that the claim's blows go through,
mean and 95 % interval: by the scenario's prior, by nine parts of it and one part
wide, and by the wide part alone; how much likelier the shots were under the
scenario's prior; and how often that prior gives results no likelier than these.
Written from the model's definition (probit in the logarithm of the blow), with
SciPy's normal distribution.

    python judgement.py           writes judgement.csv beside this file
    python judgement.py --check   recomputes it and compares (1e-9)
"""

import csv
import itertools
import pathlib
import sys

import numpy as np
from scipy.special import log_ndtr, logsumexp
from scipy.stats import norm

TABLE = pathlib.Path(__file__).with_name("judgement.csv")
# The claim's blows: lognormal; the barrier's spread from blow to blow.
CLAIM, CLAIM_SD, SPREAD = np.log(80.0), 0.30, 0.20
# What the spread may be where it is not known: lognormal about it.
SPREAD_SD = 0.5
WIDE_SD = 1.1

LOGS = {
    "none": "",
    "stopped_30": "30 s", "stopped_60": "60 s", "stopped_100": "100 s",
    "stopped_150": "150 s", "stopped_300": "300 s",
    "through_30": "30 t", "through_60": "60 t", "through_100": "100 t", "through_300": "300 t",
    "three_stopped_80": "80 s 80 s 80 s", "three_through_80": "80 t 80 t 80 t",
    "ten_stopped_80": " ".join(["80 s"] * 10), "ten_through_80": " ".join(["80 t"] * 10),
    "three_stopped_200": "200 s 200 s 200 s", "eight_stopped_200": " ".join(["200 s"] * 8),
    "three_through_25": "25 t 25 t 25 t", "eight_through_25": " ".join(["25 t"] * 8),
    "ladder": "60 s 80 s 100 t 120 t",
    "mixed": "80 t 100 s 90 t 110 s 95 s 105 t",
    "two_of_five": "80 t 80 t 80 s 80 s 80 s",
    "odd_one": "60 t 150 s 150 s 150 s",
    "five_of_twenty": " ".join(["100 t"] * 5 + ["100 s"] * 15),
    "twelve_mixed": "60 s 70 s 75 t 80 s 85 t 90 s 95 t 100 s 105 t 110 t 120 s 130 t",
    "hard_and_soft": "40 s 400 t",
}
DOUBT = 0.03  # of the logarithm of each blow


def shots(text):
    words = text.split()
    return [(np.log(float(size)), word == "t") for size, word in zip(words[::2], words[1::2])]


def priors(count):
    """Name, ln of the strength, masses, middle."""
    edges = np.linspace(np.log(0.3), np.log(3e4), count + 1)
    middles = (edges[1:] + edges[:-1]) / 2
    uniform = np.diff(np.clip((np.exp(edges) - 50) / 100, 0, 1))
    lognormal = np.diff(norm.cdf(edges, np.log(100), 0.35))
    values = np.log([60.0, 120.0, 200.0])
    return {
        "uniform": (middles, uniform / uniform.sum(), np.log(100)),
        "lognormal": (middles, lognormal / lognormal.sum(), np.log(100)),
        "choice": (values, np.array([0.5, 0.3, 0.2]), values[0]),
    }


def wide(middle, count):
    edges = middle + WIDE_SD * np.linspace(-5, 5, count + 1)
    mass = np.diff(norm.cdf(edges, middle, WIDE_SD))
    return (edges[1:] + edges[:-1]) / 2, mass / mass.sum()


def ln_likelihood(log, mu, spread):
    sd = np.hypot(spread, DOUBT)
    total = np.zeros_like(mu)
    for x, through in log:
        total = total + log_ndtr((x - mu) / sd if through else (mu - x) / sd)
    return total


def chance(mu, spread):
    return norm.cdf((CLAIM - mu) / np.hypot(spread, CLAIM_SD))


def spreads(kind):
    if kind == "known":
        return np.array([SPREAD]), np.array([1.0])
    steps = np.linspace(-3.5, 3.5, 57)
    weight = norm.pdf(steps)
    return SPREAD * np.exp(SPREAD_SD * steps), weight / weight.sum()


def summary(values, weights):
    order = np.argsort(values, kind="stable")
    cumulative = np.cumsum(weights[order])
    low, high = (values[order][np.searchsorted(cumulative, p)] for p in (0.025, 0.975))
    mean = float((values * weights).sum())
    return mean, min(low, mean), max(high, mean)


def posterior(log, parts, kind):
    """`parts`: (mu, mass) lists; the spread learnt or each value kept as it was."""
    mu = np.concatenate([part[0] for part in parts])
    mass = np.concatenate([part[1] for part in parts])
    values, logs, each = [], [], []
    for spread, weight in zip(*spreads(kind)):
        ln = ln_likelihood(log, mu, spread)
        values.append(chance(mu, spread))
        with np.errstate(divide="ignore"):
            logs.append(np.log(mass) + ln)
        each.append(weight)
    if kind == "learnt":
        joint = np.concatenate([ln + np.log(w) for ln, w in zip(logs, each)])
        weights = np.exp(joint - logsumexp(joint))
    else:
        weights = np.concatenate([w * np.exp(ln - logsumexp(ln)) for ln, w in zip(logs, each)])
    return summary(np.concatenate(values), weights)


def evidence(log, mu, mass):
    return logsumexp(ln_likelihood(log, mu, SPREAD), b=mass)


def surprise(log, mu, mass):
    """Every pattern of results, like shots counted once."""
    sizes = sorted({x for x, _ in log})
    counts = [sum(x == size for x, _ in log) for size in sizes]
    ln = [[ln_likelihood([(size, through)], mu, SPREAD) for through in (True, False)]
          for size in sizes]
    ways = [[norm_ways(n, k) for k in range(n + 1)] for n in counts]

    def one(pattern):
        parts = sum(k * t + (n - k) * s for k, n, (t, s) in zip(pattern, counts, ln))
        return logsumexp(parts, b=mass) if counts else 0.0

    seen = tuple(sum(x == size and through for x, through in log) for size in sizes)
    limit = one(seen) + 1e-9
    total = 0.0
    for pattern in itertools.product(*(range(n + 1) for n in counts)):
        value = one(pattern)
        if value <= limit:
            total += np.exp(value + sum(w[k] for w, k in zip(ways, pattern)))
    return min(1.0, float(total))


def norm_ways(n, k):
    from scipy.special import gammaln
    return gammaln(n + 1) - gammaln(k + 1) - gammaln(n - k + 1)


def rows():
    fine, coarse = priors(24000), priors(3000)
    for name, text in LOGS.items():
        log = shots(text)
        learns = len(log) >= 10 and len({through for _, through in log}) == 2
        for prior, (mu, mass, middle) in fine.items():
            for kind in ("known", "cut", "learnt"):
                # The spread is learnt from ten shots on, with both results.
                if (kind == "learnt") != learns:
                    continue
                few = kind != "known"
                m, w, _ = coarse[prior] if few else (mu, mass, middle)
                vague = wide(middle, 3000 if few else 24000)
                own = (m, w)
                found = [
                    posterior(log, [own], kind),
                    posterior(log, [(m, 0.9 * w), (vague[0], 0.1 * vague[1])], kind),
                    posterior(log, [vague], kind),
                ]
                factor = np.exp(np.clip(
                    evidence(log, mu, mass) - evidence(log, *wide(middle, 24000)), -700, 700))
                rare = surprise(log, mu[mass > 0], mass[mass > 0])
                numbers = [number for one in found for number in one] + [factor, rare]
                yield [name, text, prior, kind] + [repr(float(number)) for number in numbers]


HEAD = ["log", "shots", "prior", "spread"] + [
    f"{part}_{end}" for part in ("scenario", "both", "shots") for end in ("mean", "low", "high")
] + ["factor", "surprise"]


def main():
    table = [HEAD] + list(rows())
    if "--check" not in sys.argv:
        with TABLE.open("w", newline="") as file:
            csv.writer(file, lineterminator="\n").writerows(table)
        return
    with TABLE.open(newline="") as file:
        kept = list(csv.reader(file))
    assert len(kept) == len(table) and kept[0] == HEAD, "another layout"
    for old, new in zip(kept[1:], table[1:]):
        assert old[:4] == new[:4], (old[:4], new[:4])
        for column, a, b in zip(HEAD[4:], old[4:], new[4:]):
            a, b = float(a), float(b)
            assert abs(a - b) <= 1e-9 + 1e-6 * abs(a), (old[:4], column, a, b)
    print(f"{TABLE.name}: {len(table) - 1} rows agree")


main()
