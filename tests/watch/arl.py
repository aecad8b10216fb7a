"""Writes how long a one-sided exponentially weighted moving average runs before it signals, by a Markov
chain (Brook & Evans 1972, Biometrika 59:539): the average is cut into cells, what is at 0 stands for a
cell of its own, and each value counts for no more than `most` standard deviations.
Run by hand from this folder; the output is committed, and no test run needs Python.

    pip install numpy==2.4.6 && python3 arl.py
"""

import csv
import math
import pathlib

import numpy

HERE = pathlib.Path(__file__).parent
LAMBDA, LIMIT, MOST = 0.3, 2.844, 3.0
CELLS = 1600
# A fall by 30 % at a coefficient of variation of 30 % and of 20 %, and others between.
SHIFTS = [0.0, 0.25, 0.5, 1.0, -math.log(0.7) / math.sqrt(math.log(1.09)), -math.log(0.7) / math.sqrt(math.log(1.04)), 2.5]

normal = numpy.vectorize(lambda x: 0.5 * math.erfc(-x / math.sqrt(2)))


def below(value, shift, most):
    """The probability of a value up to this one, where all beyond `most` stand there."""
    inside = numpy.where(value < -most, 0.0, normal(value - shift))
    return numpy.where(value >= most, 1.0, inside)


def one_sided(lam, limit, most, shift, cells=CELLS):
    """From a start at 0: the mean run length, and the run by which half have signalled."""
    edge = limit * math.sqrt(lam / (2 - lam))
    tops = numpy.linspace(0.0, edge, cells + 1)
    middles = numpy.concatenate([[0.0], (tops[1:] + tops[:-1]) / 2])
    reach = below((tops[None, :] - (1 - lam) * middles[:, None]) / lam, shift, most)
    stay = numpy.diff(reach, axis=1, prepend=0.0)
    mean = numpy.linalg.solve(numpy.eye(cells + 1) - stay, numpy.ones(cells + 1))[0]
    still, runs = numpy.zeros(cells + 1), 0
    still[0] = 1.0
    while still.sum() > 0.5:
        still, runs = still @ stay, runs + 1
    return mean, runs


def two_sided(lam, limit, shift, cells=801):
    edge = limit * math.sqrt(lam / (2 - lam))
    edges = numpy.linspace(-edge, edge, cells + 1)
    middles = (edges[1:] + edges[:-1]) / 2
    reach = normal((edges[None, :] - (1 - lam) * middles[:, None]) / lam - shift)
    stay = numpy.diff(reach, axis=1)
    return numpy.linalg.solve(numpy.eye(cells) - stay, numpy.ones(cells))[cells // 2]


def main():
    # Lucas & Saccucci 1990, Technometrics 32:1, two-sided charts (from memory).
    for lam, limit, shift, printed in [
        (0.4, 3.054, 0.0, 500),
        (0.25, 2.998, 0.0, 500),
        (0.1, 2.814, 0.0, 500),
        (0.25, 2.998, 0.5, 48.2),
        (0.1, 2.814, 0.5, 31.3),
        (0.1, 2.814, 1.0, 10.3),
    ]:
        found = two_sided(lam, limit, shift)
        assert abs(found / printed - 1) < 0.01, (lam, limit, shift, found)
    with open(HERE / "arl.csv", "w", newline="") as file:
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["lambda", "limit", "most", "shift", "mean_run", "half_by"])
        for shift in SHIFTS:
            mean, half = one_sided(LAMBDA, LIMIT, MOST, shift)
            finer = one_sided(LAMBDA, LIMIT, MOST, shift, CELLS // 2)[0]
            assert abs(mean / finer - 1) < 2e-3, (shift, mean, finer)
            out.writerow([LAMBDA, LIMIT, MOST, f"{shift:.9f}", f"{mean:.2f}", half])


main()
