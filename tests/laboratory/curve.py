"""Writes what other programs make of an instrument's pairs. Run by hand from this folder; the output
is committed, and no test run needs Python.

    pip install -r requirements-curve.txt && python3 curve.py

curve.jsonl: invented pairs. Each is fitted by WLS of statsmodels; for the two weighings that go by the
concentration, weights are taken anew four times from the fitted concentration, held to half and double
of the counted one. At some readings: get_prediction's standard errors and 95 % intervals, of the mean
and of one observation with the weight there. Of later pairs: the 99 % interval of each, and their common
shift as a linear form of the pairs whose covariance is written out whole.

student.jsonl: quantiles of Student's t by scipy.
"""

import json
import pathlib
import platform
from importlib.metadata import version

import numpy as np
import statsmodels.api as sm
from scipy.stats import t as student

HERE = pathlib.Path(__file__).parent
SEED = 20261202
CASES = 240
VERSIONS = {"python": platform.python_version()} | {
    name: version(name) for name in ("numpy", "scipy", "statsmodels")
}


def weights(weighing, sizes, errors):
    if weighing == "plain":
        return np.ones(len(sizes))
    if weighing == "by_size":
        return 1 / sizes**2
    return 1 / (errors / 100 * sizes) ** 2


def columns(x, degree, middle, half):
    t = (np.atleast_1d(x) - middle) / half
    return np.column_stack([t**k for k in range(degree + 1)])


def fit(case, design):
    y, errors = case["y"], case["errors"]
    sizes = y
    for _ in range(1 if case["weighing"] == "plain" else 5):
        w = weights(case["weighing"], sizes, errors)
        found = sm.WLS(y, design, weights=w).fit(method="qr")
        sizes = np.clip(found.fittedvalues, y / 2, y * 2)
    return found


def instrument(rng):
    """Readings and true concentrations of one of three kinds of instrument."""
    n = int(rng.integers(6, 30))
    truth = np.exp(rng.uniform(np.log(60), np.log(900), n))
    kind = rng.choice(["absorbance", "digits", "transmission"])
    if kind == "absorbance":
        reading = 0.05 + 0.0014 * truth
    elif kind == "digits":
        reading = 3000 * truth / (2500 + truth)
    else:
        reading = 95 - 0.08 * truth
    return kind, reading, truth


def simulate(rng):
    kind, reading, truth = instrument(rng)
    errors = np.round(rng.uniform(3, 10, len(truth)), 1)
    y = np.round(truth * (1 + errors / 100 * rng.standard_normal(len(truth))), 1)
    x = np.round(reading * (1 + 0.01 * rng.standard_normal(len(truth))), 3)
    return kind, x, y, errors


def later_pairs(rng, x, y, errors):
    """Some of the same instrument, shifted."""
    many = int(rng.integers(1, 7))
    at = rng.integers(0, len(x), many)
    factor = rng.choice([0.8, 0.9, 1.0, 1.0, 1.1])
    counted = np.round(y[at] * factor * (1 + 0.05 * rng.standard_normal(many)), 1)
    return x[at], counted, errors[at]


def at_readings(case, found, move, x):
    design = move(x)
    expected = design @ found.params
    rms = np.full(len(x), np.sqrt(np.mean(case["errors"] ** 2)))
    w = weights(case["weighing"], expected, rms)
    frame = found.get_prediction(design, weights=w).summary_frame(alpha=0.05)
    mean_error = frame["mean_se"].to_numpy()
    one_error = np.sqrt(mean_error**2 + found.scale / w)
    names = ["mean_ci_lower", "mean_ci_upper", "obs_ci_lower", "obs_ci_upper"]
    rows = zip(x, expected, mean_error, one_error, *(frame[n].to_numpy() for n in names))
    return [[float(v) for v in row] for row in rows]


def later(case, found, move, x, y, errors):
    design = move(x)
    expected = design @ found.params
    w = weights(case["weighing"], expected, errors)
    cov = found.scale * np.diag(1 / w) + design @ found.cov_params() @ design.T
    t = student.ppf(0.995, found.df_resid)
    half = t * np.sqrt(np.diag(cov))
    form = w * expected / np.sum(w * expected**2)
    shift = form @ (y - expected)
    wide = t * np.sqrt(form @ cov @ form)
    return {
        "pairs": [[float(v) for v in row] for row in zip(x, y, errors, expected, np.maximum(expected - half, 0), expected + half)],
        "shift": [100 * float(v) for v in (shift, shift - wide, shift + wide)],
    }


def one(rng):
    kind, x, y, errors = simulate(rng)
    shape = str(rng.choice(["linear", "quadratic"]))
    case = {"weighing": str(rng.choice(["plain", "by_error", "by_size"])), "y": y, "errors": errors}
    degree = 1 if shape == "linear" else 2
    middle, half = (x.min() + x.max()) / 2, (x.max() - x.min()) / 2
    move = lambda x: columns(x, degree, middle, half)
    found = fit(case, move(x))
    # Raw coefficients from moved ones, exactly linear.
    raw = np.zeros((degree + 1, degree + 1))
    raw[0, 0] = 1
    raw[:2, 1] = [-middle / half, 1 / half]
    if degree == 2:
        raw[:, 2] = [middle**2 / half**2, -2 * middle / half**2, 1 / half**2]
    covariance = raw @ found.cov_params() @ raw.T
    readings = np.round(np.quantile(x, [0, 0.3, 0.75, 1]), 3)
    expected = found.predict(move(np.linspace(x.min(), x.max(), 200)))
    steps = np.diff(expected)
    if expected.min() <= 1 or not (np.all(steps > 0) or np.all(steps < 0)):
        return None
    if shape == "quadratic" and min(abs(steps[0]), abs(steps[-1])) < 1e-3 * abs(steps).max():
        return None
    return {
        "kind": str(kind),
        "shape": shape,
        "weighing": case["weighing"],
        "pairs": [[float(v) for v in row] for row in zip(x, y, errors)],
        "coefficients": [float(v) for v in raw @ found.params],
        "standard_errors": [float(v) for v in np.sqrt(np.diag(covariance))],
        "residual_sd": float(np.sqrt(found.scale)),
        "r_squared": float(found.rsquared),
        "read": at_readings(case, found, move, readings),
        "later": later(case, found, move, *later_pairs(rng, x, y, errors)),
    }


def main():
    rng = np.random.default_rng(SEED)
    lines = [{"versions": VERSIONS, "seed": SEED}]
    while len(lines) <= CASES:
        found = one(rng)
        if found:
            lines.append(found)
    dense = lambda line: json.dumps(line, separators=(",", ":")) + "\n"
    (HERE / "curve.jsonl").write_text("".join(map(dense, lines)))
    shares = [0.5, 0.8, 0.9, 0.95, 0.98, 0.99, 0.999]
    rows = [{"versions": VERSIONS}] + [
        {"degrees": n, "share": s, "t": float(student.isf((1 - s) / 2, n))} for n in [*range(1, 99), 200, 1000] for s in shares
    ]
    (HERE / "student.jsonl").write_text("".join(map(dense, rows)))


main()
