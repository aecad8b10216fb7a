"""Writes what scipy and statsmodels make of intervals of counts and shares, and of the tail of a beta
distribution. Run by hand from this folder; the output is committed, and no test run needs Python.

    pip install -r requirements.txt && python3 intervals.py
"""

import csv
import pathlib
import platform
from importlib.metadata import version

from scipy.stats import beta, chi2, gamma
from statsmodels.stats.proportion import proportion_confint

HERE = pathlib.Path(__file__).parent


def made_by(*packages):
    programs = ", ".join(f"{p} {version(p)}" for p in packages)
    return f"intervals.py, Python {platform.python_version()}, {programs}"


def write(name, by, header, rows):
    with (HERE / name).open("w", newline="", encoding="utf-8") as file:
        file.write(f"# {by}\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header)
        out.writerows(rows)
    print(name, len(rows))


def text(number):
    return format(float(number), ".12g")


def share_rows():
    """Every share of few cells, and of more cells every few."""
    rows = []
    for cells in [*range(1, 41), 50, 75, 100, 150, 200, 201, 300, 400, 600, 1000, 2000]:
        step = max(1, cells // 60)
        for hits in sorted({*range(0, cells + 1, step), 1, cells - 1, cells}):
            wilson = proportion_confint(hits, cells, method="wilson")
            exact = proportion_confint(hits, cells, method="beta")
            rows.append([hits, cells, *(text(100 * x) for x in (*wilson, *exact))])
    return rows


def poisson_rows():
    counts = [*range(0, 700), *range(700, 4000, 37), *range(4000, 100_001, 1999), 400_000, 1_000_000]
    rows = []
    for n in counts:
        low = 0.0 if n == 0 else chi2.ppf(0.025, 2 * n) / 2
        high = chi2.ppf(0.975, 2 * n + 2) / 2
        middle = gamma.ppf([0.025, 0.5, 0.975], n + 0.5)
        rows.append([n, text(low), text(high), *(text(x) for x in middle)])
    return rows


def tail_rows():
    rows = []
    for cells in (1, 10, 50, 100, 137, 200, 400, 800, 2000):
        for percent in range(0, 101, 4):
            hits = percent * cells / 100
            for limit in (5, 11, 15, 30, 60.01, 70, 80, 95):
                after = beta(hits + 0.5, cells - hits + 0.5)
                rows.append([percent, cells, limit, text(after.cdf(limit / 100)), text(after.sf(limit / 100))])
    return rows


write("shares.csv", made_by("scipy", "statsmodels"), ["hits", "cells", "wilson_low", "wilson_high", "exact_low", "exact_high"], share_rows())
write("poisson.csv", made_by("scipy"), ["count", "low", "high", "jeffreys_low", "jeffreys_middle", "jeffreys_high"], poisson_rows())
write("tails.csv", made_by("scipy"), ["percent", "cells", "limit", "below", "above"], tail_rows())
