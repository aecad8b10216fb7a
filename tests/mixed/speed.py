"""Writes an invented table of 500 boars with 365 ejaculates each and 14 columns, fits it by MixedLM of
statsmodels with REML, has tests/examples/mixed_speed.rs fit the same table, and prints both, with how many
times as fast it was.

    pip install -r requirements.txt && python3 speed.py TABLE
"""

import platform
import subprocess
import sys
import time
from importlib.metadata import version

import numpy as np
import statsmodels.api as sm

SEED = 20261202
GROUPS, EACH, COLUMNS = 500, 365, 14


def table():
    chance = np.random.default_rng(SEED)
    groups = np.repeat(np.arange(GROUPS), EACH)
    X = chance.normal(size=(len(groups), COLUMNS))
    X[:, 0] = 1.0
    X[:, 1] = np.tile(np.linspace(-1, 1, EACH), GROUPS)
    # A few that a boar has for good, and a few switches.
    X[:, 2:4] = (chance.random((GROUPS, 2)) < 0.4)[groups]
    X[:, 4:7] = X[:, 4:7] > 1
    y = X @ np.concatenate([[250.0], chance.normal(0, 10, COLUMNS - 1)])
    y += chance.normal(0, 30, GROUPS)[groups] + chance.normal(0, 50, len(groups))
    return groups, np.round(X, 4), np.round(y, 2)


def main():
    groups, X, y = table()
    with open(sys.argv[1], "w", encoding="utf-8") as file:
        for group, value, row in zip(groups, y, X):
            file.write(f"{group},{value:.2f}," + ",".join(f"{x:g}" for x in row) + "\n")
    start = time.perf_counter()
    fit = sm.MixedLM(y, X, groups=groups).fit(reml=True)
    seconds = time.perf_counter() - start
    print(f"Python {platform.python_version()}, statsmodels {version('statsmodels')}, numpy {np.__version__}")
    print(f"{seconds:.3f} s for {len(y)} rows, converged {fit.converged}")
    print(f"between {fit.cov_re[0, 0]} residual {fit.scale} log-likelihood {fit.llf}")
    print("effects", list(map(float, fit.fe_params)))
    ours = ["cargo", "run", "--release", "--quiet", "-p", "pentally-tests", "--example", "mixed_speed", sys.argv[1]]
    said = subprocess.run(ours, check=True, capture_output=True, text=True).stdout
    print(said)
    for name in ("flat", "known"):
        line = next(line for line in said.splitlines() if line.startswith(name + ":"))
        print(f"{name}: {seconds / float(line.split()[1]):.1f} times as fast")


if __name__ == "__main__":
    main()
