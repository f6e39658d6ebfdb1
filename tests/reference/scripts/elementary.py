"""Values of exp, ln, ln(1 + x) and ln gamma to 25 digits, by mpmath 1.3 with 60 digits of working precision, at
arguments that are exact doubles. Run: python3 elementary.py > ../../../crates/numerics/tests/elementary.csv
"""

import random

import mpmath

mpmath.mp.dps = 60
random.seed(1)


def told(name, f, arguments):
    for x in arguments:
        print(f"{name},{x!r},{mpmath.nstr(f(mpmath.mpf(x)), 25)}")


def spread(low, high, n):
    """Evenly on the log scale."""
    ratio = mpmath.log(mpmath.mpf(high) / low)
    return [float(low * mpmath.exp(ratio * random.random())) for _ in range(n)]


print("function,x,value")
told("exp", mpmath.exp, [0.0, 1.0, -1.0, -708.0, 709.0, 0.34657359027997264, -0.34657359027997264])
told("exp", mpmath.exp, [random.uniform(-708, 709) for _ in range(60)])
told("exp", mpmath.exp, [random.uniform(-2, 2) for _ in range(60)])
told("ln", mpmath.log, [1.0000000000000002, 0.9999999999999999, 2.0, 0.5, 1e-300, 1e300, 0.7071067811865476])
told("ln", mpmath.log, spread(1e-300, 1e300, 60) + spread(0.5, 2.0, 80))
told("ln_1p", mpmath.log1p, [1e-300, 2.220446049250313e-16, 0.41421356237309503, 1.0, 3.0, 1e300])
told("ln_1p", mpmath.log1p, spread(1e-20, 1e20, 60) + spread(0.01, 10.0, 80))
told("ln_gamma", mpmath.loggamma, [float(n) for n in range(1, 12)] + [1.4616321449683622, 7.999999999999999, 1e300])
told("ln_gamma", mpmath.loggamma, spread(1.0, 3.0, 60) + spread(3.0, 300.0, 80) + spread(300.0, 1e12, 40))
