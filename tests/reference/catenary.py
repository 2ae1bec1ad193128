"""Reference shapes of unequal spans, computed without Plumbrise's formulas.

The horizontal tension is found with scipy (brentq on the sag at midspan, both ends' heights met), then every quantity is
evaluated with 60 digits in mpmath from the plain textbook form y = a*cosh((x - x0)/a) + c, length by numerical integration.

    python -m venv venv && venv/bin/pip install scipy mpmath
    venv/bin/python catenary.py > catenary.json
"""

import json
import math
import platform
import random
import sys

import mpmath as mp
import scipy
from scipy.optimize import brentq, root

mp.mp.dps = 60
COUNT = 240
SEED = 20240607


def low_point(run, rise, a):
    """x0 of y = a*cosh((x - x0)/a) through (0, 0) and (run, rise) up to a constant: solved, not taken from the closed form."""
    height = lambda x0: a * (mp.cosh((run - x0) / a) - mp.cosh(x0 / a)) - rise
    guess = run / 2 - a * mp.asinh(rise / run)
    return mp.findroot(height, (guess, guess * (1 + mp.mpf(10) ** -6) + mp.mpf(10) ** -6))


def curve(run, rise, a):
    x0 = low_point(run, rise, a)
    y0 = a * mp.cosh(x0 / a)
    return x0, lambda x: a * mp.cosh((x - x0) / a) - y0


def sag(run, rise, a):
    _, y = curve(run, rise, a)
    return rise / 2 - y(run / 2)


def span(rng):
    run = mp.mpf(rng.uniform(8.0, 250.0))
    # Rounded to doubles, so that both sides start from the same numbers.
    rise = mp.mpf(float(run) * rng.choice([0.0, rng.uniform(-0.05, 0.05), rng.uniform(-1.0, 1.0)]))
    wanted = mp.mpf(float(run) * 10 ** rng.uniform(-4.0, -0.5))
    load = mp.mpf(rng.uniform(1.0, 40.0))
    # scipy finds ln(a/run) in doubles; Newton in 60 digits finishes.
    miss = lambda ln_a: float(mp.log(sag(run, rise, run * mp.exp(ln_a)) / wanted))
    start = brentq(miss, -2.0, 14.0, xtol=1e-12)
    a = run * mp.exp(mp.findroot(lambda ln_a: mp.log(sag(run, rise, run * mp.exp(ln_a)) / wanted), (start, start + 1e-9)))
    x0, y = curve(run, rise, a)
    slope = lambda x: mp.sinh((x - x0) / a)
    length = mp.quad(lambda x: mp.sqrt(1 + slope(x) ** 2), [0, run / 2, run])
    tension = a * load
    fraction = mp.mpf(rng.uniform(0.02, 0.98))
    deepest = x0 + a * mp.asinh(rise / run)
    return {
        "run_m": float(run),
        "rise_m": float(rise),
        "load_n_per_m": float(load),
        "midspan_sag_m": float(wanted),
        "horizontal_tension_n": float(tension),
        "low_point_m": float(x0),
        "length_m": float(length),
        "tension_at_first_n": float(tension * mp.sqrt(1 + slope(mp.mpf(0)) ** 2)),
        "tension_at_second_n": float(tension * mp.sqrt(1 + slope(run) ** 2)),
        "fraction": float(fraction),
        "depth_at_fraction_m": float(rise * fraction - y(run * fraction)),
        "greatest_sag_m": float(rise * deepest / run - y(deepest)),
    }


def stretched(rng):
    """The elastic catenary of M. Irvine, Cable Structures (1981), from the unstressed length, both ends fixed: weight stays
    with the unstressed wire, every piece stretches by its own tension."""
    run, stiffness, weight = rng.uniform(20.0, 80.0), 10 ** rng.uniform(6.0, 7.5), rng.uniform(1.0, 12.0)
    rise = run * rng.uniform(-0.3, 0.3)
    unstressed = math.hypot(run, rise) * (1.0 + rng.uniform(-0.001, 0.01))

    def miss(unknown):
        h, v = math.exp(unknown[0]), unknown[1]
        lower, whole = v - weight * unstressed, h / weight
        x = h * unstressed / stiffness + whole * (math.asinh(v / h) - math.asinh(lower / h))
        z = unstressed / stiffness * (v - weight * unstressed / 2) + whole * (math.hypot(1, v / h) - math.hypot(1, lower / h))
        return [(x - run) * 1e3, (z - rise) * 1e3]

    slack = max(unstressed - math.hypot(run, rise), 1e-3 * run)
    h = weight * run * math.sqrt(run / (24 * slack))
    start = [math.log(h), weight * unstressed / 2 + h * rise / run]
    found = root(miss, start, method="hybr", tol=1e-13)
    assert max(abs(m) for m in miss(found.x)) < 1e-7, (run, rise, unstressed, found)
    return {
        "run_m": run,
        "rise_m": rise,
        "unstressed_m": unstressed,
        "stiffness_n": stiffness,
        "load_n_per_m": weight,
        "horizontal_tension_n": math.exp(found.x[0]),
    }


def main():
    rng = random.Random(SEED)
    json.dump(
        {
            "made_by": "tests/reference/catenary.py",
            "versions": {
                "python": platform.python_version(),
                "scipy": scipy.__version__,
                "mpmath": mp.__version__ if hasattr(mp, "__version__") else "",
            },
            "seed": SEED,
            "spans": [span(rng) for _ in range(COUNT)],
            "stretched": [stretched(rng) for _ in range(60)],
        },
        sys.stdout,
        indent=0,
    )
    print()


if __name__ == "__main__":
    main()
