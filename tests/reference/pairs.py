"""Gaps between two still parts, measured by two distance libraries.

    VENV/bin/python tests/reference/pairs.py

with the libraries of gaps.py, beside which this lies and whose shapes it takes; writes pairs.csv. The same versions give the
same file. Metres. A row's columns:

one, other
    kind of each part, as gaps.py has them: box, capsule, cylinder, frustum
part, beside
    its numbers, as gaps.py has them
coal_m, fcl_m
    what each library says
mesh_m
    the libraries' parts lie inside the true ones, and what they say is larger by no more than this for it: 0 but for frusta,
    which are 256-gons
"""

import csv
import itertools
import pathlib

import numpy as np
from gaps import Coal, Fcl, corner_along, log_uniform, part_in, random_part, rounded, text

OUT = pathlib.Path(__file__).with_name("pairs.csv")
KINDS = ("box", "capsule", "cylinder", "frustum")
PAIRS_OF_TWO_KINDS = 120


def random_pair(rng, one, other):
    """Support points of both are put the gap wanted apart along some direction; other places of the two may be nearer."""
    while True:
        a, b = random_part(rng, one), random_part(rng, other)
        n = rng.normal(size=3)
        n /= np.linalg.norm(n)
        wanted = log_uniform(rng, 0.002, 20)
        at = rng.uniform(-40, 40, 3)
        a = a.moved(at - corner_along(a, n))
        aside = rng.normal(size=3) * wanted * 0.3
        b = b.moved(at + n * wanted + aside - corner_along(b, -n))
        if max(a.extent(), b.extent()) < 100:
            return a, b


def main():
    libraries = [Coal(), Fcl()]
    with OUT.open("w", newline="") as file:
        file.write("# written by pairs.py, which says what each column is: coal 3.0.3 and python-fcl 0.7.0.11 on random parts; metres\n")
        rows = csv.writer(file, lineterminator="\n")
        rows.writerow(["one", "other", "part", "beside", "coal_m", "fcl_m", "mesh_m"])
        apart = []
        for number, (one, other) in enumerate(itertools.combinations_with_replacement(KINDS, 2)):
            rng = np.random.default_rng([20261125, number])
            for _ in range(PAIRS_OF_TWO_KINDS):
                a, b = random_pair(rng, one, other)
                said, mesh_m = [], 0.0
                for library in libraries:
                    (shape, short), (beside, besides) = part_in(library, a, None, 0.1), part_in(library, b, None, 0.2)
                    said.append(library.distance(shape, beside)[0])
                    mesh_m = short + besides
                apart.append(abs(said[0] - said[1]))
                rows.writerow([one, other, text(a.numbers()), text(b.numbers()), *(f"{v:.10g}" for v in said), f"{mesh_m:.3g}"])
        print(f"libraries differ: median {np.median(apart):.1e}, 99 % {np.quantile(apart, 0.99):.1e}, most {max(apart):.1e}")


if __name__ == "__main__":
    main()
