"""Weibull by maximum likelihood in NumPy: exact, interval-, left- and right-censored lives, Wald bounds.

The SciPy of Debian 12 (1.10) fits no interval-censored lives itself, so the likelihood with its gradient is written
here, vectorised, and climbed by SciPy's BFGS; bounds from the second differences of the gradient.

    /usr/bin/python3 weibull.py LIVES.csv TIMES      fits TIMES times inside this process, prints JSON
"""

import json
import sys
import time
from dataclasses import dataclass

import numpy as np
from scipy import optimize


@dataclass
class Weibull:
    log_shape: float
    log_scale: float
    covariance: np.ndarray
    events: int
    log_likelihood: float

    def summary(self, z):
        """Events, then shape, scale and the hours at 10 %, each with its lower and upper bound."""
        minus_log = -np.log1p(-0.1)
        # log t10 = log scale + log(minus_log) / shape
        slope = np.array([-np.log(minus_log) * np.exp(-self.log_shape), 1.0])
        log_ten = self.log_scale + np.log(minus_log) * np.exp(-self.log_shape)
        errors = np.sqrt([self.covariance[0, 0], self.covariance[1, 1], slope @ self.covariance @ slope])
        values = np.array([self.log_shape, self.log_scale, log_ten])
        triples = np.exp(np.column_stack([values, values - z * errors, values + z * errors]))
        return (self.events, *triples.ravel())


def fit_weibull(lower, upper):
    """lower = upper: exact; upper infinite: still running; lower 0: before the first look."""
    exact = lower == upper
    running = ~np.isfinite(upper)
    between = ~exact & ~running
    log_exact, log_running = np.log(upper[exact]), np.log(lower[running & (lower > 0)])
    with np.errstate(divide="ignore"):
        log_lower = np.log(lower[between])
    log_upper = np.log(upper[between])
    from_new = ~np.isfinite(log_lower)
    log_lower[from_new] = 0.0
    units = max(1.0, float(exact.sum() + between.sum()))

    def minus(parameters):
        log_shape, log_scale = parameters
        shape = np.exp(log_shape)
        value = gradient_shape = gradient_scale = 0.0
        if log_exact.size:
            u = shape * (log_exact - log_scale)
            eu = np.exp(u)
            value += (log_shape + u - eu - log_exact).sum()
            gradient_shape += (1 + u * (1 - eu)).sum()
            gradient_scale += shape * (eu - 1).sum()
        if log_running.size:
            u = shape * (log_running - log_scale)
            eu = np.exp(u)
            value -= eu.sum()
            gradient_shape -= (u * eu).sum()
            gradient_scale += shape * eu.sum()
        if log_upper.size:
            ua, ub = shape * (log_lower - log_scale), shape * (log_upper - log_scale)
            a, b = np.where(from_new, 0.0, np.exp(ua)), np.exp(ub)
            gap = np.maximum(b - a, 1e-300)
            value += (-a + np.log(-np.expm1(-gap))).sum()
            ratio = 1 / np.expm1(gap)  # S(b) / (S(a) - S(b))
            gradient_shape += (b * ub * ratio - a * ua * (1 + ratio)).sum()
            gradient_scale += shape * (a * (1 + ratio) - b * ratio).sum()
        return -value / units, -np.array([gradient_shape, gradient_scale]) / units

    seen = np.concatenate([log_exact, log_upper]) if log_exact.size + log_upper.size else log_running
    with np.errstate(over="ignore"):
        best = optimize.minimize(minus, [0.5, float(np.median(seen))], jac=True, method="BFGS", options={"gtol": 1e-8})
    step = 1e-5
    hessian = np.array([(minus(best.x + e)[1] - minus(best.x - e)[1]) / (2 * step) for e in np.eye(2) * step]) * units
    covariance = np.linalg.inv((hessian + hessian.T) / 2)
    return Weibull(best.x[0], best.x[1], covariance, int(exact.sum() + between.sum()), -best.fun * units)


if __name__ == "__main__":
    columns = np.genfromtxt(sys.argv[1], delimiter=",", skip_header=1, filling_values=np.inf)
    seconds = []
    for _ in range(int(sys.argv[2])):
        started = time.perf_counter()
        fit = fit_weibull(columns[:, 0], columns[:, 1])
        seconds.append(time.perf_counter() - started)
    print(
        json.dumps(
            {
                "seconds": seconds,
                "shape": float(np.exp(fit.log_shape)),
                "scale": float(np.exp(fit.log_scale)),
                "log_likelihood": fit.log_likelihood,
            }
        )
    )
