"""Writes how the sperm of a dose spread, by a brute simulation in numpy that shares nothing with the
reckoning but the model, and what scipy makes of the distributions it is put together from. Run by
hand from this folder; the output is committed, and no test run needs Python.

    pip install numpy==2.4.6 scipy==1.17.1 && python3 doses.py

The model: what is known of a count is gamma, of a share beta (both by Jeffreys' prior), of a share
judged by eye beta around it, of a reading log-normal with it as the mean; an ejaculate is their product, a pool
the sum (what one instrument read shares its error), and filling multiplies it by a log-normal of mean one.
"""

import itertools
import json
import pathlib
from importlib.metadata import version

import numpy
from scipy import stats

HERE = pathlib.Path(__file__).parent
SEED = 20261201
DRAWS = 2_000_000
QUANTILES = [0.01, 0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95, 0.99]
MADE_BY = f"numpy {version('numpy')}, scipy {version('scipy')}; seed {SEED}; {DRAWS} draws a case"


def share(chance, percent, cells, points):
    p = percent / 100
    if cells is None:
        # Around what was judged, with that spread; at the ends as at 5 and 95 %.
        inside = min(max(p, 0.05), 0.95)
        n = max(1.0, inside * (1 - inside) / (points / 100) ** 2 - 1)
        return chance.beta(max(n * p, 0.5), max(n * (1 - p), 0.5), DRAWS)
    return chance.beta(cells * p + 0.5, cells * (1 - p) + 0.5, DRAWS)


def ejaculate(chance, e, count_as, instrument):
    def read(error):
        sigma = error / 100
        return numpy.exp(sigma * chance.standard_normal(DRAWS) - sigma**2 / 2)

    sure = e["sure"]
    sperm = e["volume_ml"] * e["concentration_m_per_ml"] * read(sure["volume_error_percent"])
    counted = sure.get("sperm_counted")
    if not counted:
        sperm *= instrument
    if counted:
        sperm *= read(sure["concentration_error_percent"])
        sperm *= chance.gamma(counted + 0.5, 1.0, DRAWS) / counted
    if count_as != "total":
        args = (sure.get("motile_cells"), sure.get("motile_spread_points"))
        sperm *= share(chance, e["motile_percent"], *args)
    if count_as == "motile_normal":
        args = (sure.get("abnormal_cells"), sure.get("abnormal_spread_points"))
        sperm *= 1 - share(chance, e["abnormal_percent"], *args)
    return sperm


def simulated(case):
    chance = numpy.random.default_rng([SEED, case["case"]])
    # One instrument reads all: its error is the same draw, as large as the largest said.
    read = [e["sure"] for e in case["ejaculates"] if not e["sure"].get("sperm_counted")]
    sigma = max((s["concentration_error_percent"] for s in read), default=0.0) / 100
    of_its_own = numpy.random.default_rng([SEED, case["case"], 1])
    instrument = numpy.exp(sigma * of_its_own.standard_normal(DRAWS) - sigma**2 / 2)
    sperm = sum(ejaculate(chance, e, case["count_as"], instrument) for e in case["ejaculates"])
    error = case["filling_error_percent"] / 100
    sperm = sperm * numpy.exp(error * chance.standard_normal(DRAWS) - error**2 / 2)
    return [float(q) for q in numpy.quantile(sperm, QUANTILES)]


def one(counted, cells, motile, reading, abnormal=12.0, volume=250.0):
    """Without a count an instrument was read; without cells it was judged by eye."""
    sure = {"volume_error_percent": 1.0, "concentration_error_percent": reading}
    sure |= {"sperm_counted": counted} if counted else {}
    sure |= {"motile_cells": cells} if cells else {"motile_spread_points": 6.0}
    sure |= {"abnormal_cells": cells} if cells else {"abnormal_spread_points": 4.0}
    return {
        "volume_ml": volume,
        "concentration_m_per_ml": 220.0,
        "motile_percent": motile,
        "abnormal_percent": abnormal,
        "sure": sure,
    }


def cases():
    counts, cells = [None, 3, 10, 40, 200, 800], [None, 10, 50, 200, 400]
    for counted, looked, motile in itertools.product(counts, cells, [60.0, 80.0, 95.0]):
        yield "motile", 2.0, [one(counted, looked, motile, 2.5 if counted else 8.0)]
    for counted, looked in itertools.product([None, 25, 400], [None, 100, 400]):
        pool = [one(counted, looked, 82.0, 3.0 if counted else 12.0)]
        yield "total", 1.0, pool
        yield "motile_normal", 3.0, pool
    for size, counted, looked in itertools.product([2, 4, 8], [None, 5, 300], [None, 20, 200]):
        each = range(size)
        yield "motile_normal", 2.0, [
            one(counted, looked, 70.0 + 3 * i, 3.0 if counted else 10.0, 5.0 + 2 * i, 120.0 + 40 * i)
            for i in each
        ]


    # Read off one instrument that is worse in some, and some of the pool counted.
    mixed = [one(None, 200, 80.0, 4.0), one(None, 200, 85.0, 9.0), one(300, 200, 75.0, 3.0)]
    yield "motile", 2.0, mixed
    yield "total", 2.0, mixed[:2]


def moments():
    """Coefficient of variation squared, skewness and excess kurtosis, by scipy."""
    for sigma in [0.001, 0.01, 0.05, 0.1, 0.2, 0.5]:
        yield ["log_normal", sigma, 0], stats.lognorm(sigma)
    for shape in [0.5, 1.5, 5.5, 25.5, 200.5, 4000.5]:
        yield ["gamma", shape, 0], stats.gamma(shape)
    for a, b in [(0.5, 10.5), (10.5, 0.5), (1.5, 3.5), (160.5, 40.5), (385.5, 15.5), (1.5, 1999.5)]:
        yield ["beta", a, b], stats.beta(a, b)


def main():
    with (HERE / "doses.jsonl").open("w", encoding="utf-8") as file:
        file.write(json.dumps({"made_by": MADE_BY, "quantiles": QUANTILES}) + "\n")
        for n, (count_as, filling, pool) in enumerate(cases()):
            case = {
                "case": n,
                "count_as": count_as,
                "filling_error_percent": filling,
                "ejaculates": pool,
            }
            file.write(json.dumps(case | {"sperm_m": simulated(case)}) + "\n")
    with (HERE / "doses_scipy.jsonl").open("w", encoding="utf-8") as file:
        file.write(json.dumps({"made_by": f"scipy {version('scipy')}"}) + "\n")
        for (kind, a, b), law in moments():
            mean, variance, skewness, excess = (float(x) for x in law.stats("mvsk"))
            of = {"of": [kind, a, b], "moments": [variance / mean**2, skewness, excess]}
            file.write(json.dumps(of) + "\n")
        for z in [-8.5, -5.0, -3.0, -1.9, -0.3, 0.0, 1e-9, 0.7, 1.645, 2.5, 4.0, 8.0]:
            file.write(json.dumps({"below": [z, float(stats.norm.cdf(z))]}) + "\n")
        for p in [0.001, 0.02, 0.05, 0.31, 0.5, 0.8, 0.95, 0.999]:
            file.write(json.dumps({"quantile": [p, float(stats.norm.ppf(p))]}) + "\n")
        # A log-normal beyond a bound, by its mean, spread, skewness: its tail and a quantile.
        for sigma, bound, p in itertools.product([0.02, 0.1, 0.3], [0.0, 4.0], [0.01, 0.05, 0.5, 0.9]):
            law = stats.lognorm(sigma, loc=bound, scale=2.0)
            mean, variance, skewness = (float(x) for x in law.stats("mvs"))
            x = float(law.ppf(p))
            row = [mean, variance**0.5, skewness, x, float(law.sf(x)), p]
            file.write(json.dumps({"bounded": row}) + "\n")


main()
