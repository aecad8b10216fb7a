"""Writes what other programs make of waiting times with some still waiting: shares, bands, medians
and the log-rank test by lifelines, standard errors by statsmodels, the chi-square tail by scipy.
Run by hand from this folder; the output is committed, and no test run needs Python.

    pip install -r requirements.txt && python3 survival.py
"""

import csv
import json
import pathlib
import platform
import random
from importlib.metadata import version

import numpy
from lifelines import KaplanMeierFitter
from lifelines.statistics import multivariate_logrank_test
from scipy.stats import chi2
from statsmodels.duration.survfunc import SurvfuncRight

HERE = pathlib.Path(__file__).parent
SEED = 20261126


def number(x):
    return float(f"{float(x):.11g}")


def curve(group):
    """For each time: share, standard error, lower and upper edge; where 0 < share < 1."""
    times, happened = zip(*group)
    fit = KaplanMeierFitter().fit(times, happened)
    band = fit.confidence_interval_
    errors = {}
    if any(happened):
        other = SurvfuncRight(numpy.array(times), numpy.array(happened, dtype=int))
        errors = dict(zip(other.surv_times, other.surv_prob_se))
    rows, error = [], None
    for time in sorted(set(times)):
        error = errors.get(time, error)
        share = fit.survival_function_.loc[time].iloc[0]
        if 1e-9 < share < 1 - 1e-9:
            rows.append([time, *map(number, [share, error, *band.loc[time]])])
        else:
            rows.append([time, round(share), None, None, None])
    return rows, median(rows)


def median(rows):
    """First times at which share, lower and upper edge are one half or less."""
    # A hair for shares such as 3/4 · 2/3, which binary fractions leave a little above one half.
    first = lambda n: next((r[0] for r in rows if r[n] is not None and r[n] <= 0.5 + 1e-9), None)
    return [first(1), first(3), first(4)]


def test(groups):
    """The log-rank test of the groups that were watched until the first event."""
    events = [t for g in groups for t, happened in g if happened]
    groups = [g for g in groups if events and any(t >= min(events) for t, _ in g)]
    if len(groups) < 2:
        return None
    flat = [(t, at, happened) for at, g in enumerate(groups) for t, happened in g]
    times, labels, happened = map(numpy.array, zip(*flat))
    found = multivariate_logrank_test(times, labels, happened)
    degrees = len(groups) - 1
    return [number(found.test_statistic), degrees, number(chi2.sf(found.test_statistic, degrees))]


def group(chance, n, kind, rate):
    def time():
        waited = chance.expovariate(rate)
        return round(waited, 2) if kind == "fine" else float(1 + int(waited))

    watch = {"all censored": 1.0, "none censored": 0.0}.get(kind, chance.uniform(0.05, 0.6))
    return [(time(), chance.random() >= watch) for _ in range(n)]


def cases(chance):
    kinds = ["fine", "ties", "all censored", "none censored"]
    for n in range(140):
        sizes = [chance.choice([1, 2, 5, 9, 14, 22]) for _ in range(chance.choice([1, 2, 2, 3, 4]))]
        groups = [group(chance, size, kinds[(n + at) % 4], chance.uniform(0.05, 0.4)) for at, size in enumerate(sizes)]
        if n % 9 == 0:
            groups.append([])
        yield groups


def main():
    chance = random.Random(SEED)
    python = f"Python {platform.python_version()}, numpy {numpy.__version__}"
    made = ", ".join(f"{name} {version(name)}" for name in ("lifelines", "statsmodels", "scipy"))
    with (HERE / "survival.jsonl").open("w", encoding="utf-8") as file:
        file.write(json.dumps({"made_by": f"{python}, {made}; seed {SEED}"}) + "\n")
        for groups in cases(chance):
            curves = [curve(g) if g else ([], [None] * 3) for g in groups]
            row = {"groups": groups, "curves": [c[0] for c in curves], "medians": [c[1] for c in curves], "test": test(groups)}
            file.write(json.dumps(row, separators=(",", ":")) + "\n")
    with (HERE / "tail.csv").open("w", newline="", encoding="utf-8") as file:
        file.write(f"# {python}, scipy {version('scipy')} chi2.sf\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["x", "degrees", "chance"])
        for degrees in [*range(1, 13), 19, 20]:
            for x in [1e-9, 1e-4, 0.01, 0.1, 0.5, 1, 2, 3.84, 5, 7.9, 8, 8.1, 12, 20, 35, 60, 150, 700]:
                out.writerow([x, degrees, repr(float(chi2.sf(x, degrees)))])


if __name__ == "__main__":
    main()
