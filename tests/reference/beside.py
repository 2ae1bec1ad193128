"""Spans beside one that is held out: wire that runs through its supports, solved without Plumbrise's formulas.

A section of two to five spans between dead ends, supports at different heights, all in balance over frictionless supports. Then one
span is taken hold of at a point that grips, and moved aside, up or down. Two readings: nothing holds the wire at any support
between (all of one side share what T - w*z is), or it slips at the support next to the held span alone until a friction force holds it.
Wire is linear elastic: length = unstressed length * (1 + mean tension / EA), tensions and lengths of the exact catenary.

    python -m venv venv && venv/bin/pip install scipy
    venv/bin/python beside.py > beside.json
"""

import json
import math
import random

import scipy
from scipy.optimize import brentq

SEED = 20261126
COUNT = 200


class Curve:
    """Between supports `run` apart, the second `rise` higher, horizontal tension h, load w."""

    def __init__(self, run, rise, h, w):
        a = h / w
        half = run / (2 * a)
        middle = math.asinh(rise / (2 * a * math.sinh(half)))
        self.h, self.w, self.a = h, w, a
        self.ends = (middle - half, middle + half)
        self.length = a * (math.sinh(self.ends[1]) - math.sinh(self.ends[0]))
        self.tension = tuple(h * math.cosh(u) for u in self.ends)

    def mean_tension(self, until=None):
        u0, u1 = self.ends if until is None else (self.ends[0], until)
        length = self.a * (math.sinh(u1) - math.sinh(u0))
        work = self.h * self.a * ((u1 - u0) / 2 + (math.sinh(2 * u1) - math.sinh(2 * u0)) / 4)
        return work / length, length

    def unstressed(self, ea):
        mean, length = self.mean_tension()
        return length / (1 + mean / ea)


def at_tension(run, rise, end, tension, w):
    """The taut one of the curves that pull this hard along the wire at an end."""
    low = tension * 0.3
    f = lambda h: Curve(run, rise, h, w).tension[end] - tension
    return brentq(f, low, tension, xtol=1e-10, rtol=1e-14)


def of_length(run, rise, unstressed, w, ea, start):
    f = lambda h: Curve(run, rise, h, w).unstressed(ea) - unstressed
    return brentq(f, start * 0.02, start * 60, xtol=1e-10, rtol=1e-14)


def case(dice):
    count = dice.randint(2, 5)
    runs = [dice.uniform(25, 90) for _ in range(count)]
    zs = [10 + dice.uniform(-1.5, 1.5) for _ in range(count + 1)]
    w = dice.uniform(1.0, 8.0)
    ea = dice.uniform(2e6, 2e7)
    first = w * dice.uniform(250, 900)
    hs = [first]
    for i in range(1, count):
        tension = Curve(runs[i - 1], zs[i] - zs[i - 1], hs[-1], w).tension[1]
        hs.append(at_tension(runs[i], zs[i + 1] - zs[i], 0, tension, w))
    held = dice.randrange(count)
    fraction = dice.uniform(0.25, 0.75)
    curve = Curve(runs[held], zs[held + 1] - zs[held], hs[held], w)
    until = curve.ends[0] + (curve.ends[1] - curve.ends[0]) * fraction
    natural_z = zs[held] + curve.a * (math.cosh(until) - math.cosh(curve.ends[0]))
    aside, up = dice.uniform(-1.2, 1.2), dice.uniform(-0.5, 0.6)
    grip = (runs[held] * fraction, aside, natural_z + up)
    mean0, length0 = curve.mean_tension(until)
    mean, length = curve.mean_tension()
    mean1 = (mean * length - mean0 * length0) / (length - length0)
    parts = [length0 / (1 + mean0 / ea), (length - length0) / (1 + mean1 / ea)]
    friction = dice.uniform(0, 0.3) * hs[held]

    sides = []
    for side in (0, 1):
        # From the held span outward: run, rise seen outward from the near support, unstressed length.
        if side == 0:
            part_run = math.hypot(grip[0], aside)
            part_rise = grip[2] - zs[held]
            support = zs[held]
            beside = [(runs[i], zs[i] - zs[i + 1], i) for i in range(held - 1, -1, -1)]
        else:
            part_run = math.hypot(runs[held] - grip[0], aside)
            part_rise = grip[2] - zs[held + 1]
            support = zs[held + 1]
            beside = [(runs[i], zs[i + 1] - zs[i], i) for i in range(held + 1, count)]
        own = [Curve(run, rise, hs[i], w).unstressed(ea) for run, rise, i in beside]

        # Nothing holds it: one T - w*z for all.
        def free(level):
            tensions, total, z = [], 0.0, support
            h = at_tension(part_run, part_rise, 0, level + w * support, w)
            total += Curve(part_run, part_rise, h, w).unstressed(ea)
            lengths = []
            for run, rise, _ in beside:
                hi = at_tension(run, rise, 0, level + w * z, w)
                lengths.append(Curve(run, rise, hi, w).unstressed(ea))
                tensions.append(hi)
                z += rise
            return total + sum(lengths) - parts[side] - sum(own), tensions, lengths

        if beside:
            top = 40 * hs[held]
            level = brentq(lambda level: free(level)[0], 40 * w - w * support, top, xtol=1e-9, rtol=1e-13)
            _, tensions, lengths = free(level)
            # What ran through the near support, and each farther one.
            ran = [sum(own[k:]) - sum(lengths[k:]) for k in range(len(own))]

            run, rise, i = beside[0]

            def pulls(x):
                h = of_length(part_run, part_rise, parts[side] + x, w, ea, hs[held])
                hn = of_length(run, rise, own[0] - x, w, ea, hs[i])
                return Curve(part_run, part_rise, h, w).tension[0] - Curve(run, rise, hn, w).tension[0], hn

            apart, hn = pulls(0.0)
            x = 0.0
            if abs(apart) > friction:
                wanted = math.copysign(friction, apart)
                step = math.copysign(1e-4, apart)
                end = step
                while (pulls(end)[0] - wanted) * (apart - wanted) > 0:
                    end *= 1.5
                x = brentq(lambda x: pulls(x)[0] - wanted, 0.0, end, xtol=1e-12)
                hn = pulls(x)[1]
            sides.append({"beside": [i for _, _, i in beside], "free_n": tensions, "ran_m": ran, "slipped_n": hn, "slipped_m": x})
        else:
            sides.append(None)
    return {
        "runs_m": runs, "heights_m": zs, "weight_n_per_m": w, "stiffness_n": ea, "horizontal_n": hs, "held": held,
        "fraction": fraction, "to": grip, "sides": sides,
    }


def main():
    dice = random.Random(SEED)
    cases = []
    while len(cases) < COUNT:
        try:
            cases.append(case(dice))
        except (ValueError, OverflowError, ZeroDivisionError):
            # No root in the bracket: a wire that is pulled out of any catenary.
            continue
    print(json.dumps({"scipy": scipy.__version__, "seed": SEED, "cases": cases}))


main()
