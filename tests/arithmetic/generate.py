"""Writes what other programs make of the bench's and the calendar's arithmetic: Python's datetime
and fractions, python-dateutil, scipy and statsmodels. Run by hand from this folder; the output is
committed, and no test run needs Python.

    pip install -r requirements.txt && python3 generate.py
"""

import calendar
import csv
import datetime
import pathlib
import platform
import random
from fractions import Fraction
from importlib.metadata import version

import numpy
from dateutil.relativedelta import relativedelta
from scipy.stats import binom
from statsmodels.stats.proportion import proportion_confint

HERE = pathlib.Path(__file__).parent
SEED = 20261125


def write(name, made_by, header, rows):
    with (HERE / name).open("w", newline="", encoding="utf-8") as file:
        file.write(f"# {made_by}; seed {SEED}\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(header)
        out.writerows(rows)


def days(chance):
    """Every day from 2023 to 2028, which holds two leap years, and days far apart."""
    first, last = datetime.date(2023, 1, 1), datetime.date(2028, 12, 31)
    near = [first + datetime.timedelta(days=n) for n in range((last - first).days + 1)]
    low, high = datetime.date(1990, 1, 1).toordinal(), datetime.date(2099, 6, 30).toordinal()
    return near + [datetime.date.fromordinal(chance.randint(low, high)) for _ in range(800)]


def calendar_rows(chance):
    steps = [18, 24, 28, 114, 115, 3, 4, 6]
    return [[day, *(day + datetime.timedelta(days=n) for n in steps)] for day in days(chance)]


def month_ends(year):
    return [datetime.date(year, m, calendar.monthrange(year, m)[1]) for m in range(1, 13)]


def age_rows(chance):
    pairs = []
    for born in month_ends(2023) + month_ends(2024):
        for year in (born.year, born.year + 1, born.year + 5):
            ends = month_ends(year)
            around = [e + datetime.timedelta(days=n) for e in ends for n in (-1, 0, 1)]
            pairs += [(born, on) for on in around if on >= born]
    for _ in range(1500):
        born = datetime.date.fromordinal(chance.randint(726468, 764000))
        pairs.append((born, born + datetime.timedelta(days=chance.randint(0, 2500))))
    rows = []
    for born, on in pairs:
        apart = relativedelta(on, born)
        months = whole_months(born, on)
        # Two independent rules must agree before a row is written.
        assert abs(months - (apart.years * 12 + apart.months)) <= 1
        rows.append([born, on, (on - born).days, months])
    return rows


def whole_months(born, on):
    """The most months that can be added to the birth date without passing the day."""
    months = 0
    while born + relativedelta(months=months + 1) <= on:
        months += 1
    return months


def wilson_rows():
    rows = []
    for cells in (1, 2, 10, 50, 100, 200, 400, 1000, 2000):
        for hits in sorted({0, 1, cells // 10, cells // 3, cells // 2, 7 * cells // 10, cells - 1, cells}):
            low, high = proportion_confint(hits, cells, method="wilson")
            rows.append([hits, cells, repr(float(100 * low)), repr(float(100 * high))])
    return rows


def chance_rows(chance):
    cases = [(0, 100, 100, 100), (0, 200, 3, 200), (1, 100, 9, 100), (80, 100, 91, 100), (1999, 2000, 1980, 2000)]
    for _ in range(250):
        n, m = (chance.choice([1, 5, 40, 100, 150, 200, 201, 400, 1000, 2000]) for _ in range(2))
        share = chance.random()
        cases.append((binomial_draw(chance, n, share), n, binomial_draw(chance, m, share + chance.gauss(0, 0.05)), m))
    return [[a, n, b, m, repr(exact_chance(a, n, b, m))] for a, n, b, m in cases]


def binomial_draw(chance, n, share):
    return sum(chance.random() < share for _ in range(n))


def exact_chance(a, n, b, m):
    """The whole table of both outcomes, summed where they lie as far apart as a/n and b/m or farther."""
    share = (a + b) / (n + m)
    i, j = numpy.arange(n + 1)[:, None], numpy.arange(m + 1)[None, :]
    far = numpy.abs(i * m - j * n) >= abs(a * m - b * n)
    both = binom.pmf(i, n, share) * binom.pmf(j, m, share)
    return float(min(1.0, both[far].sum()))


def decimal(chance, low, high, places):
    scale = 10**places
    return Fraction(chance.randint(int(low * scale), int(high * scale)), scale)


def text(number):
    return format(float(number), ".10g")


def dose_case(chance, kind):
    target = chance.choice(["3", "2.5", "1.5", "0.15", "2", "4.2"])
    volume = chance.choice(["80", "45", "5", "90", "100", "72.5"])
    way = chance.choice(["total", "motile", "motile_normal"])
    ml, abnormal = decimal(chance, 1, 600, 1), decimal(chance, 0, 60, 1)
    motile, concentration = decimal(chance, 0, 100, 1), decimal(chance, 1, 900, 1)
    if kind == "edge":
        # Exactly whole doses, where a binary fraction a hair too small would lose one.
        whole = chance.randint(1, 40)
        share = {"total": 1, "motile": motile / 100, "motile_normal": motile / 100 * (100 - abnormal) / 100}[way]
        if share == 0:
            return None
        exact = whole * Fraction(target) * 1000 / (ml * share)
        concentration = exact.limit_denominator(1000)
        if concentration != exact or concentration > 5000 or Fraction(text(exact)) != exact:
            return None
    return ml, concentration, motile, abnormal, way, Fraction(target), Fraction(volume)


def dose_rows(chance):
    cases = [c for c in (dose_case(chance, "any") for _ in range(1500)) if c]
    while len(cases) < 2000:
        case = dose_case(chance, "edge")
        if case:
            cases.append(case)
    return [dose_row(*case) for case in cases]


def dose_row(ml, concentration, motile, abnormal, way, target, volume):
    share = Fraction(1)
    if way != "total":
        share *= motile / 100
    if way == "motile_normal":
        share *= (100 - abnormal) / 100
    usable = ml * concentration * share
    doses = usable // (target * 1000)
    if doses == 0:
        fate, extender = "too_few", ""
    elif usable * volume < target * 1000 * ml:
        fate, extender = "thin", ""
    else:
        fate, extender = "made", repr(float(max(Fraction(0), doses * volume - ml)))
    given = [text(x) for x in (ml, concentration, motile, abnormal)]
    return [*given, way, text(target), text(volume), doses, fate, extender]


def count_rows(chance):
    rows = []
    for _ in range(400):
        counts = [chance.randint(0, 900) for _ in range(chance.randint(1, 3))]
        squares = [chance.choice([4, 5, 25, 50, 225]) for _ in counts]
        steps = [(chance.choice(["1", "0.1", "0.5", "2"]), str(chance.randint(0, 99))) for _ in range(chance.randint(0, 2))]
        factor = Fraction(1)
        for semen, diluent in steps:
            factor *= (Fraction(semen) + Fraction(diluent)) / Fraction(semen)
        exact = sum(counts) * factor / (sum(squares) * 4)
        if factor <= 10000 and exact <= 5000:
            written = [" ".join(map(str, counts)), " ".join(map(str, squares)), " ".join("+".join(s) for s in steps)]
            rows.append([*written, repr(float(exact))])
    return rows


def main():
    chance = random.Random(SEED)
    python = f"Python {platform.python_version()}"
    dateutil = f"{python}, python-dateutil {version('python-dateutil')}"
    science = f"{python}, numpy {numpy.__version__}"
    after = ["day", "d18", "d24", "d28", "d114", "d115", "d3", "d4", "d6"]
    write("calendar.csv", f"{python} datetime", after, calendar_rows(chance))
    write("ages.csv", dateutil, ["born_on", "on_day", "days", "months"], age_rows(chance))
    stats = f"{science}, statsmodels {version('statsmodels')} proportion_confint"
    write("wilson.csv", stats, ["hits", "cells", "low_percent", "high_percent"], wilson_rows())
    scipy = f"{science}, scipy {version('scipy')} binom"
    write("chance.csv", scipy, ["a", "n", "b", "m", "chance"], chance_rows(chance))
    header = ["volume_ml", "concentration_m_per_ml", "motile_percent", "abnormal_percent", "count_as"]
    header += ["target_billions", "dose_volume_ml", "doses", "fate", "extender_ml"]
    write("doses.csv", f"{python} fractions", header, dose_rows(chance))
    header = ["counts", "squares", "dilution", "concentration_m_per_ml"]
    write("counts.csv", f"{python} fractions", header, count_rows(chance))


if __name__ == "__main__":
    main()
