"""Sections of wire strung at one tension, warmed or cooled, iced: solved without Plumbrise's formulas.

A section of two to five level spans between dead ends; the supports between them are suspension strings of a known stiffness along
the line (from nearly free to nearly rigid). The conductor is a core and a mantle side by side, each linear elastic with its own
expansion; the mantle carries no compression. Unknowns are all horizontal tensions and all shifts of the supports; scipy's root finder solves
length of wire = unstressed length * (1 + strain(tension, temperature)) in every span together with the balance at every string. Lengths are
those of the exact catenary, the tension of the strain is the mean of horizontal and support tension.

    python -m venv venv && venv/bin/pip install scipy
    venv/bin/python strung.py > strung.json
"""

import json
import math
import random
import sys

import numpy as np
import scipy
from scipy.optimize import brentq, root

SEED = 20251125
COUNT = 150


def length(run, tension, load):
    return 2 * tension / load * math.sinh(load * run / (2 * tension))


def mean_tension(run, tension, load):
    return (tension + tension * math.cosh(load * run / (2 * tension))) / 2


def strain(core, mantle, at, warmer, tension):
    """Of core (EA, expansion) and mantle (EA, expansion), zero at the start, where the mantle carries `at`."""
    core_at = at["core_n"]
    mantle_at = at["mantle_n"]
    # core force = core_at + EAc*(e - ac*dT); mantle the same or zero
    both = (tension - core_at - mantle_at + core[0] * core[1] * warmer + mantle[0] * mantle[1] * warmer) / (core[0] + mantle[0])
    if mantle_at + mantle[0] * (both - mantle[1] * warmer) >= 0:
        return both
    return (tension - core_at) / core[0] + core[1] * warmer


def solve(case):
    spans, weight, load = case["spans_m"], case["weight_n_per_m"], case["load_n_per_m"]
    core, mantle = case["core"], case["mantle"]
    start = case["strung_n"]
    own = [length(run, start, weight) for run in spans]

    def of(run, i):
        at = mean_tension(run, start, weight)
        split = {"core_n": at * case["core_share"], "mantle_n": at * (1 - case["core_share"])}
        return lambda tension, r: length(r, tension, load) - own[i] * (
            1 + strain(core, mantle, split, case["warmer_k"], mean_tension(r, tension, load)) + case["grown"]
        )

    equations = [of(run, i) for i, run in enumerate(spans)]
    apart = [brentq(lambda h, e=e, r=r: e(h, r), start * 0.02, start * 30, xtol=1e-9, rtol=1e-14) for e, r in zip(equations, spans)]
    n = len(spans)

    def residual(x):
        tensions, shifts = np.exp(x[:n]), np.concatenate([[0.0], x[n:], [0.0]])
        gaps = [equations[i](tensions[i], spans[i] + shifts[i + 1] - shifts[i]) for i in range(n)]
        balance = [(tensions[i + 1] - tensions[i] - case["string_n_per_m"] * shifts[i + 1]) / start for i in range(n - 1)]
        return np.array(gaps + balance)

    best = root(residual, np.concatenate([np.log(apart), np.zeros(n - 1)]), method="hybr", options={"xtol": 1e-13})
    if not best.success or np.abs(residual(best.x)).max() > 1e-8:
        return None
    return {"apart_n": apart, "tension_n": list(np.exp(best.x[:n])), "shift_m": list(best.x[n:])}


def case(draw):
    core = (draw.uniform(0.3e6, 3e6), draw.uniform(11.0e-6, 12.0e-6))
    mantle = (core[0] * draw.uniform(1.0, 3.5), draw.uniform(22.5e-6, 23.5e-6))
    whole = core[0] + mantle[0]
    base = draw.uniform(45, 110)
    weight = draw.uniform(1.0, 6.0)
    tension = weight * base * base / 8 / (base * draw.uniform(0.006, 0.025))
    ice = draw.choice([0.0, 0.0, draw.uniform(0.1, 1.5)])
    return {
        "spans_m": [base * draw.uniform(0.7, 1.3) for _ in range(draw.randint(2, 5))],
        "weight_n_per_m": weight,
        "load_n_per_m": weight * (1 + ice),
        "strung_n": tension,
        "core": core,
        "mantle": mantle,
        "core_share": min(0.95, core[0] / whole * draw.uniform(1.0, 2.2)),
        "warmer_k": draw.uniform(-35, 5) if ice else draw.uniform(-35, 70),
        "grown": draw.choice([0.0, draw.uniform(0, 6e-4)]),
        "string_n_per_m": math.exp(draw.uniform(math.log(10), math.log(1e6))),
        "whole_n": whole,
        "whole_expansion": (core[0] * core[1] + mantle[0] * mantle[1]) / whole,
    }


def main():
    draw, found = random.Random(SEED), []
    while len(found) < COUNT:
        one = case(draw)
        solved = solve(one)
        if solved:
            found.append({**one, **solved})
    rounded = json.loads(json.dumps({"sections": found}), parse_float=lambda x: float(f"{float(x):.13g}"))
    json.dump({"scipy": scipy.__version__, "seed": SEED, **rounded}, sys.stdout, indent=0)


main()
