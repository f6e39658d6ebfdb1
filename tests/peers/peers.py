"""The fits of `cargo xtask bench peers` in Python. Writes one line of JSON for each measurement. Start-up and imports
are not timed; processor time of one thread.

Python's general libraries have no maximum-likelihood fit of these mixed models. What stands in for it is the bare
Laplace likelihood as one writes it oneself with numpy, minimised by scipy with gradients by differences, on the same
data and models. statsmodels' mixed Poisson model is timed too; it is another estimator (variational Bayes).

usage, in tests/peers: python3 peers.py      (pip install statsmodels, which brings numpy and scipy)
"""

import csv
import importlib.util
import json
import platform
import statistics
import time
import warnings


def say(**words):
    print(json.dumps(words), flush=True)


def has(package):
    found = importlib.util.find_spec(package) is not None
    if not found:
        say(missing=package, install="pip install statsmodels")
    return found


def columns(path):
    with open(path, newline="") as file:
        rows = list(csv.DictReader(file))
    return {key: [row[key] for row in rows] for key in rows[0]}


def measure(peer, of, calls, fit, log_likelihood):
    last = fit()
    spent = []
    for _ in range(calls):
        start = time.process_time()
        last = fit()
        spent.append(1000 * (time.process_time() - start))
    say(peer=peer, set=of, ms=statistics.median(spent), calls=calls, log_likelihood=log_likelihood(last))


say(version="Python", **{"is": platform.python_version()})
scipy_there, statsmodels_there = has("scipy") and has("numpy"), has("statsmodels")

if scipy_there:
    import numpy as np
    import scipy
    from scipy.linalg import cho_factor, cho_solve
    from scipy.optimize import minimize
    from scipy.special import gammaln

    say(version="numpy", **{"is": np.__version__})
    say(version="scipy", **{"is": scipy.__version__})

    def codes(values):
        return np.unique(values, return_inverse=True)[1]

    def load(of):
        """Design columns, groupings, offset, counts, trials and law of a set (tests/reference/scripts/specs.R)."""
        path = "../reference/open/grouseticks.csv" if of == "ticks" else f"../reference/data/{of}.csv"
        raw = columns(path)
        number = lambda key: np.array(raw[key], float)
        year, y = number("year"), number("count")
        tc = year - (year.min() + year.max()) / 2
        one, offset, trials = np.ones_like(y), np.zeros_like(y), None
        law = {"a": "poisson", "d": "poisson", "e": "binomial"}.get(of, "nb2")
        x = [one, tc]
        groups = [codes(raw["site"]), codes(raw["year"])]
        if of == "c":
            w = number("week") - 2.5
            x = [one, tc, w, w * w]
            offset = np.log(number("exposure"))
            groups.append(groups[0] * (groups[1].max() + 1) + groups[1])
        if of in "de":
            p = (number("pos") - 500) / 250
            x = [one, p, p * p, tc, p * tc] if of == "d" else [one, p, tc]
        if of == "e":
            trials = number("visits")
        if of == "ticks":
            x = [one]
        return np.column_stack(x), groups, offset, y, trials, law

    class Laplace:
        """Minus the Laplace log likelihood of beta, log SDs and, for NB2, log k; modes are kept from call to call."""

        def __init__(self, x, groups, offset, y, trials, law):
            self.x, self.offset, self.y, self.trials, self.law = x, offset, y, trials, law
            self.z = np.hstack([np.eye(g.max() + 1)[g] for g in groups])
            self.sizes = [g.max() + 1 for g in groups]
            self.mode = np.zeros(self.z.shape[1])
            n = trials if law == "binomial" else None
            self.constant = -gammaln(y + 1) if n is None else gammaln(n + 1) - gammaln(y + 1) - gammaln(n - y + 1)
            share = y.mean() if n is None else y.sum() / n.sum()
            first = np.log(share) if n is None else np.log(share / (1 - share))
            more = [0.0] if law == "nb2" else []
            self.start = np.array([first] + [0.0] * (x.shape[1] - 1) + [np.log(0.5)] * len(groups) + more)

        def parts(self, eta, k):
            """Log likelihood, its slope and its curvature in the linear predictor."""
            y = self.y
            if self.law == "binomial":
                n, p = self.trials, 1 / (1 + np.exp(-eta))
                return y * eta - n * np.logaddexp(0, eta), y - n * p, n * p * (1 - p)
            mu = np.exp(eta)
            if self.law == "poisson":
                return y * eta - mu, y - mu, mu
            q = (y + k) / (mu + k)
            log = gammaln(y + k) - gammaln(k) + k * np.log(k) + y * eta - (y + k) * np.log(mu + k)
            return log, y - mu * q, mu * q * k / (mu + k)

        def __call__(self, theta):
            p = self.x.shape[1]
            sd = np.repeat(np.exp(theta[p : p + len(self.sizes)]), self.sizes)
            k = np.exp(theta[-1]) if self.law == "nb2" else None
            zl, fixed, u = self.z * sd, self.offset + self.x @ theta[:p], self.mode
            log, slope, weight = self.parts(fixed + zl @ u, k)
            value = log.sum() - u @ u / 2
            for _ in range(100):
                gradient = zl.T @ slope - u
                factor = cho_factor(zl.T @ (weight[:, None] * zl) + np.eye(len(u)))
                step = cho_solve(factor, gradient)
                if gradient @ step < 1e-18:
                    break
                share = 1.0
                while True:
                    tried = u + share * step
                    log, slope, weight = self.parts(fixed + zl @ tried, k)
                    new = log.sum() - tried @ tried / 2
                    if new >= value - 1e-12 or share < 1e-6:
                        break
                    share /= 2
                u, value = tried, new
            self.mode = u
            return -(value + self.constant.sum() - np.log(np.diag(factor[0])).sum())

    def fit(data):
        with warnings.catch_warnings(), np.errstate(all="ignore"):
            warnings.simplefilter("ignore")
            likelihood = Laplace(*data)
            return minimize(likelihood, likelihood.start, method="BFGS")

    for of in ["a", "b", "c", "d", "e", "ticks"]:
        data = load(of)
        measure("scipy", of, 3, lambda: fit(data), lambda f: -float(f.fun))

    def survey(rng):
        """A survey of set b: 30 sites, 10 years, mean 12 in the first, slope -.04, SDs .8 and .2, k 2."""
        site, year = np.repeat(np.arange(30), 10), np.tile(np.arange(10), 30)
        eta = np.log(12) - 0.04 * year + rng.normal(0, 0.8, 30)[site] + rng.normal(0, 0.2, 10)[year]
        y = rng.poisson(np.exp(eta) * rng.gamma(2, 0.5, 300)).astype(float)
        return np.column_stack([np.ones(300), year - 4.5]), [site, year], np.zeros(300), y, None, "nb2"

    rng = np.random.default_rng(1)
    start = time.process_time()
    for _ in range(200):
        f = fit(survey(rng))
        f.x[1], np.sqrt(f.hess_inv[1, 1])
    say(peer="scipy", set="200 surveys", ms=1000 * (time.process_time() - start), calls=1, log_likelihood=None)

if statsmodels_there:
    import pandas
    import statsmodels
    from statsmodels.genmod.bayes_mixed_glm import PoissonBayesMixedGLM

    say(version="statsmodels", **{"is": statsmodels.__version__})
    for of in ["a", "d"]:
        d = pandas.read_csv(f"../reference/data/{of}.csv")
        d["tc"] = d.year - (d.year.min() + d.year.max()) / 2
        formula = "count ~ tc"
        if of == "d":
            d["x"] = (d.pos - 500) / 250
            formula = "count ~ x + I(x ** 2) + tc + x:tc"

        def call():
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                terms = {"site": "0 + C(site)", "year": "0 + C(year)"}
                return PoissonBayesMixedGLM.from_formula(formula, terms, d).fit_vb()

        measure("statsmodels", of, 3, call, lambda _: None)
