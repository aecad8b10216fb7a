"""Works the sets of nist.jsonl out anew with 60 digits and stops where a certified value differs.
Run by hand from this folder; no test run needs Python.

    pip install -r requirements-curve.txt && python3 nist.py

nist.jsonl holds the linear sets of the NIST Statistical Reference Datasets (National Institute of
Standards and Technology, https://www.itl.nist.gov/div898/strd/lls/lls.shtml; in the public domain):
data, certified estimates, their standard deviations, residual standard deviation and R², taken from
published copies of them.
"""

import json
import pathlib

from mpmath import matrix, mp, mpf, sqrt

mp.dps = 60
for line in (pathlib.Path(__file__).parent / "nist.jsonl").read_text().splitlines():
    given = json.loads(line)
    y = matrix([mpf(v) for v in given["y"]])
    powers = [[mpf(v) ** k for v in c] for c in given["columns"] for k in range(1, given["degree"] + 1)]
    columns = [[mpf(1)] * len(y)] * given["constant"] + powers
    x = matrix(columns).T
    squares = x.T * x
    beta = squares**-1 * (x.T * y)
    left = y - x * beta
    rss = sum(v * v for v in left)
    variance = rss / (len(y) - len(columns))
    mean = sum(y) / len(y) if given["constant"] else mpf(0)
    inverse = squares**-1
    found = (
        list(zip(given["estimates"], beta))
        + list(zip(given["deviations"], [sqrt(abs(variance * inverse[j, j])) for j in range(len(beta))]))
        + [(given["residual_sd"], sqrt(abs(variance))), (given["r_squared"], 1 - rss / sum((v - mean) ** 2 for v in y))]
    )
    worst = max(abs(mpf(c) - v) / max(abs(mpf(c)), mpf(10) ** -15) if mpf(c) else abs(v) for c, v in found)
    # 15 digits are printed.
    assert worst < mpf(10) ** -13, (given["name"], worst)
    print(given["name"], len(y), len(columns), "agrees to", mp.nstr(worst, 3))
