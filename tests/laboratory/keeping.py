"""What other programs make of looks at stored semen. Writes keeping.jsonl beside this file:

    python3 -m venv /tmp/venv && /tmp/venv/bin/pip install numpy==2.4.6 scipy==1.17.1 statsmodels==0.15.0 segno==1.6.6
    /tmp/venv/bin/python tests/laboratory/keeping.py

Nothing here shares code with the program:
- plain: statsmodels' GLM, binomial, logit link, one line a case, taken on by its own score and Hessian,
  since it rests when the deviance does, which is half as many digits of the coefficients;
- placed: the mode of the whole posterior (herd, boar, batches, samples) by scipy's minimiser over all
  of them at once, and the inverse of its dense Hessian;
- exact: one batch, its posterior by quadrature over intercept and slope, samples integrated out by
  Gauss-Hermite; quantiles of the day on which it is down, with no normal about a mode;
- herd: expectation and maximisation with dense matrices;
- day: quantiles of that day for a given line, by bracketing the normal's distribution function;
- symbol: segno's smallest version for alphanumeric text.
"""

import json
import pathlib

import numpy as np
import scipy
import segno
import statsmodels
import statsmodels.api as sm
from numpy.polynomial.hermite_e import hermegauss
from scipy.optimize import brentq, minimize
from scipy.stats import norm

DICE = np.random.default_rng(20261201)
LOGIT60 = np.log(0.6 / 0.4)


def plain():
    for case in range(400):
        days = np.sort(DICE.choice(np.arange(0, 11), size=DICE.integers(2, 7), replace=False)).astype(float)
        if case % 3 == 0:
            days = days + DICE.integers(0, 24, size=len(days)) / 24
        cells = DICE.choice([20, 50, 100, 200, 400, 2000], size=len(days))
        logit = DICE.normal(1.6, 0.8) + DICE.normal(-0.25, 0.2) * days + DICE.normal(0, 0.3, size=len(days))
        hits = DICE.binomial(cells, 1 / (1 + np.exp(-logit)))
        overlap = max(days[hits > 0], default=0) > min(days[hits < cells], default=99) and max(
            days[hits < cells], default=0
        ) > min(days[hits > 0], default=99)
        if not overlap:
            continue
        x = sm.add_constant(days)
        model = sm.GLM(np.column_stack([hits, cells - hits]), x, family=sm.families.Binomial())
        rested = model.fit(tol=1e-14, maxiter=200)
        at = rested.params
        for _ in range(3):
            at = at - np.linalg.solve(model.hessian(at), model.score(at))
        yield {
            "kind": "plain",
            "days": days.tolist(),
            "hits": hits.tolist(),
            "cells": cells.tolist(),
            "coefficients": at.tolist(),
            "standard_errors": np.sqrt(np.diag(np.linalg.inv(-model.hessian(at)))).tolist(),
            "deviance": float(rested.deviance),
        }


def a_herd():
    def spread(intercept, slope):
        a, b, r = intercept, slope, DICE.uniform(-0.5, 0.5)
        return np.array([[a * a, r * a * b], [r * a * b, b * b]])

    return {
        "mean": np.array([DICE.uniform(1.2, 2.2), -DICE.uniform(0.1, 0.5)]),
        "covariance": spread(DICE.uniform(0.1, 0.6), DICE.uniform(0.02, 0.2)),
        "boars": spread(DICE.uniform(0.2, 0.5), DICE.uniform(0.02, 0.1)),
        "batches": spread(DICE.uniform(0.2, 0.5), DICE.uniform(0.02, 0.1)),
        "samples": float(DICE.uniform(0.02, 0.2)),
    }


def some_looks(herd, batches, most=4):
    boar = DICE.multivariate_normal(herd["mean"], herd["boars"])
    made = []
    for _ in range(batches):
        line = DICE.multivariate_normal(boar, herd["batches"])
        looks = []
        for _ in range(DICE.integers(1, most + 1)):
            day = float(DICE.integers(0, 8))
            cells = int(DICE.choice([50, 100, 200, 400]))
            logit = line[0] + line[1] * day + DICE.normal(0, herd["samples"] ** 0.5)
            looks.append([day, int(DICE.binomial(cells, 1 / (1 + np.exp(-logit)))), cells])
        made.append(looks)
    return made


class Dense:
    """All effects of some boars in one vector: herd 2, each boar 2, each batch 2, each sample 1."""

    def __init__(self, boars):
        self.rows, self.hits, self.cells = [], [], []
        self.boar_at, self.batch_at, at = [], [], 2
        samples = sum(len(b) for boar in boars for b in boar)
        size = 2 + 2 * len(boars) + 2 * sum(map(len, boars)) + samples
        self.sample_at = size - samples
        for boar in boars:
            self.boar_at.append(at)
            here, at = at, at + 2
            for batch in boar:
                self.batch_at.append((at, here))
                for day, hits, cells in batch:
                    row = np.zeros(size)
                    for start in (0, here, at):
                        row[start : start + 2] = [1, day]
                    row[self.sample_at + len(self.rows)] = 1
                    self.rows.append(row)
                    self.hits.append(hits)
                    self.cells.append(cells)
                at += 2
        self.rows, self.hits, self.cells = map(np.array, (self.rows, self.hits, self.cells))
        self.size = size

    def prior(self, herd):
        precision = np.zeros((self.size, self.size))
        precision[:2, :2] = np.linalg.inv(herd["covariance"])
        for at in self.boar_at:
            precision[at : at + 2, at : at + 2] = np.linalg.inv(herd["boars"])
        for at, _ in self.batch_at:
            precision[at : at + 2, at : at + 2] = np.linalg.inv(herd["batches"])
        for i in range(len(self.rows)):
            precision[self.sample_at + i, self.sample_at + i] = 1 / herd["samples"]
        mean = np.zeros(self.size)
        mean[:2] = herd["mean"]
        return mean, precision

    def mode(self, herd):
        mean, precision = self.prior(herd)

        def short(x):
            eta = self.rows @ x
            like = self.hits * eta - self.cells * np.logaddexp(0, eta)
            return 0.5 * (x - mean) @ precision @ (x - mean) - like.sum()

        def slope(x):
            p = 1 / (1 + np.exp(-self.rows @ x))
            return precision @ (x - mean) - self.rows.T @ (self.hits - self.cells * p)

        def bend(x):
            p = 1 / (1 + np.exp(-self.rows @ x))
            return precision + self.rows.T @ ((self.cells * p * (1 - p))[:, None] * self.rows)

        x = minimize(short, mean, jac=slope, hess=bend, method="trust-exact", options={"gtol": 1e-9}).x
        for _ in range(3):
            x = x - np.linalg.solve(bend(x), slope(x))
        return x, np.linalg.inv(bend(x))

    def line(self, x, covariance, starts):
        pick = np.zeros((2, self.size))
        for start in starts:
            pick[0, start] = pick[1, start + 1] = 1
        return {"mean": (pick @ x).tolist(), "covariance": (pick @ covariance @ pick.T).tolist()}


def plainly(herd):
    return {name: value.tolist() if hasattr(value, "tolist") else value for name, value in herd.items()}


def placed():
    for _ in range(40):
        herd = a_herd()
        looks = some_looks(herd, int(DICE.integers(1, 5)))
        dense = Dense([looks])
        x, covariance = dense.mode(herd)
        boar = dense.line(x, covariance, (0, dense.boar_at[0]))
        boar["covariance"] = (np.array(boar["covariance"]) + herd["batches"]).tolist()
        yield {
            "kind": "placed",
            "herd": plainly(herd),
            "looks": looks,
            "next": boar,
            "batches": [dense.line(x, covariance, (0, boar, at)) for at, boar in dense.batch_at],
        }


def exact():
    nodes, weights = hermegauss(40)
    weights = weights / weights.sum()
    for _ in range(24):
        herd = a_herd()
        looks = some_looks(herd, 1, 3)[0]
        spread = herd["covariance"] + herd["boars"] + herd["batches"]
        side = np.linspace(-7, 7, 401)
        root = np.linalg.cholesky(spread)
        u, v = np.meshgrid(side, side, indexing="ij")
        a = herd["mean"][0] + root[0, 0] * u
        b = herd["mean"][1] + root[1, 0] * u + root[1, 1] * v
        log = -(u * u + v * v) / 2
        for day, hits, cells in looks:
            eta = (a + b * day)[..., None] + herd["samples"] ** 0.5 * nodes
            each = hits * eta - cells * np.logaddexp(0, eta)
            top = each.max(axis=-1)
            log = log + top + np.log((np.exp(each - top[..., None]) * weights).sum(axis=-1))
        chance = np.exp(log - log.max())
        chance /= chance.sum()
        down = lambda t: float(chance[a + b * t <= LOGIT60].sum())
        days = [t / 100 for t in range(0, 3001, 25)]
        yield {
            "kind": "exact",
            "herd": plainly(herd),
            "looks": looks,
            "days": days,
            "down": [down(t) for t in days],
        }


def herds():
    worth = 2
    for boars in (6, 12):
        truth = a_herd()
        looks = [some_looks(truth, 3) for _ in range(boars)]
        prior = a_herd()
        herd, dense = dict(prior), Dense(looks)
        for _ in range(600):
            x, covariance = dense.mode(herd)
            moment = np.outer(x, x) + covariance
            block = lambda at: moment[at : at + 2, at : at + 2]
            mean = lambda guess, all_, many: (worth * guess + all_) / (worth + many)
            herd["boars"] = mean(prior["boars"], sum(map(block, dense.boar_at)), boars)
            batches = [at for at, _ in dense.batch_at]
            herd["batches"] = mean(prior["batches"], sum(map(block, batches)), len(batches))
            own = np.diag(moment)[dense.sample_at :]
            herd["samples"] = float(mean(prior["samples"], own.sum(), len(own)))
        x, covariance = dense.mode(herd)
        herd["mean"], herd["covariance"] = x[:2], covariance[:2, :2]
        yield {"kind": "herd", "prior": plainly(prior), "looks": looks, "herd": plainly(herd)}


def days():
    for _ in range(300):
        mean = np.array([DICE.uniform(0.5, 2.5), -DICE.uniform(0.02, 0.6)])
        a, b, r = DICE.uniform(0.05, 0.5), DICE.uniform(0.005, 0.12), DICE.uniform(-0.9, 0.9)
        spread = np.array([[a * a, r * a * b], [r * a * b, b * b]])
        down = lambda t: norm.cdf((LOGIT60 - mean[0] - mean[1] * t) / np.sqrt(spread[0, 0] + 2 * t * spread[0, 1] + t * t * spread[1, 1]))
        grid = np.linspace(0, 30, 30001)
        found = []
        for q in (0.05, 0.5, 0.95):
            over = np.nonzero(down(grid) >= q)[0]
            if len(over) == 0:
                found.append(None)
            elif over[0] == 0:
                found.append(0.0)
            else:
                found.append(brentq(lambda t: down(t) - q, grid[over[0] - 1], grid[over[0]], xtol=1e-13))
        yield {"kind": "day", "mean": mean.tolist(), "covariance": spread.tolist(), "from": found[0], "middle": found[1], "to": found[2]}


def symbols():
    for level in "MQH":
        for characters in list(range(1, 60)) + [64, 65, 84, 85, 90, 91, 108, 109, 122, 123, 154, 155, 157, 158, 178, 179, 221]:
            code = segno.make("A" * characters, error=level, mode="alphanumeric", micro=False, boost_error=False)
            yield {"kind": "symbol", "level": level.lower(), "characters": characters, "modules": code.symbol_size(border=0)[0]}


def main():
    versions = {"kind": "versions", "numpy": np.__version__, "scipy": scipy.__version__, "statsmodels": statsmodels.__version__, "segno": segno.__version__}
    out = pathlib.Path(__file__).with_name("keeping.jsonl")
    with out.open("w") as file:
        for part in ([versions], plain(), placed(), exact(), herds(), days(), symbols()):
            for case in part:
                file.write(json.dumps(case, separators=(",", ":")) + "\n")


main()
