"""Crossovers, modulus and gain margins of discrete loops, in 40 digits.

With z = (1 + w)/(1 − w) a loop N(z)/D(z) is a rational function of w whose axis w = jv is the unit circle, v = tan(ωT/2); the
polynomials of generators/margins.py then give every crossover. The closed loop is judged by the roots of N + D in z. No code
of the package takes part.

Run: /usr/bin/python3 test/reference/generators/discrete_margins.py > test/reference/data/discrete-margins.json
"""

import json

from mpmath import arg, atan, binomial, degrees, mp, mpc, mpf, pi, polyroots

import margins as loops

mp.dps = 40


def in_w(a, order):
    """(1 − w)^order a(z) with z = (1 + w)/(1 − w), descending powers of w."""
    total = [mpf(0)]
    for k, value in enumerate(reversed([mpf(x) for x in a])):
        up = [binomial(k, i) for i in range(k, -1, -1)]
        down = [binomial(order - k, i) * (-1) ** i for i in range(order - k, -1, -1)]
        total = loops.add(total, [value * x for x in loops.multiply(up, down)])
    return total


def solve(case):
    T = mpf(case["sampleTime"])
    order = len(case["den"]) - 1
    num, den = (loops.strip(in_w(case[k], order)) for k in ("num", "den"))
    at = lambda v: loops.horner(num, mpc(0, v)) / loops.horner(den, mpc(0, v))
    gain, phase, still = loops.without_delay(num, den)
    phase = [v for v in phase if at(v).real < 0]
    hertz = lambda v: atan(v) / (pi * T)
    z = lambda name, value: loops.horner([mpf(x) for x in case[name]], mpf(value))
    top = z("num", -1) / z("den", -1)
    ends = [(abs(1 + top), mpf(1) / (2 * T))]
    if z("den", 1) != 0:
        ends.append((abs(1 + z("num", 1) / z("den", 1)), mpf(0)))
    modulus, place = min([(abs(1 + at(v)), hertz(v)) for v in still] + ends)
    closed = loops.add([mpf(x) for x in case["num"]], [mpf(x) for x in case["den"]])
    radius = max(abs(r) for r in polyroots(closed, maxsteps=2000, extraprec=800))
    margin = [arg(-at(v)) for v in gain]
    factors = [1 / abs(at(v)) for v in phase] + [-1 / x for x in (top, *([z("num", 1) / z("den", 1)] if z("den", 1) != 0 else [])) if x < 0]
    stable = radius < 1
    lag = [(m % (2 * pi)) / (2 * pi * hertz(v)) for m, v in zip(margin, gain)]
    return {
        "closedLoop": "stable" if stable else "unstable",
        "gainCrossovers": [[float(hertz(v)), float(degrees(m))] for v, m in zip(gain, margin)],
        "phaseCrossovers": [[float(hertz(v)), float(1 / abs(at(v)))] for v in phase],
        "modulusMargin": float(modulus),
        "modulusMarginFrequency": float(place),
        "gainMargin": float(min(f for f in factors if f > 1)) if stable and any(f > 1 for f in factors) else None,
        "gainReductionMargin": float(max(f for f in factors if f < 1)) if stable and any(f < 1 for f in factors) else None,
        "delayMargin": float(min(lag)) if stable and lag else None,
    }


CASES = [
    ("a lag that meets −1 at half the sample rate", [0.6], [1.0, -0.5], 0.01),
    ("a sum with one sample of delay", [0.3], [1.0, -1.0, 0.0], 0.001),
    ("the same, unstable", [1.2], [1.0, -1.0, 0.0], 0.001),
    ("two sums and a lead", [0.5, -0.45], [1.0, -2.0, 1.0], 0.004),
    ("a resonance of radius 0.9999 above 1 in a narrow band", [1e-3, 0.0], [1.0, -1.75, 0.9998], 0.01),
    ("three sums and a double lead, stable between two gains", [0.4, -0.74, 0.3424], [1.0, -3.0, 3.0, -1.0], 0.02),
    ("an unstable lag held between two gains", [0.5], [1.0, -1.2], 0.1),
]

if __name__ == "__main__":
    cases = []
    for title, num, den, sample_time in CASES:
        case = {"title": title, "num": num, "den": den, "sampleTime": sample_time}
        cases.append({**case, "expected": solve(case)})
    print(
        json.dumps(
            {
                "source": "computed with 40 digits (mpmath) from the rational functions of z as written, no state space",
                "units": "coefficients in descending powers of z; frequencies Hz; crossovers as [frequency, phase margin in degrees or gain margin]; delay margin s",
                "tolerance": "stated in ../systems-discrete-margins.test.ts, each with its reason",
                "generator": "generators/discrete_margins.py",
                "cases": cases,
            },
            indent=1,
            ensure_ascii=False,
        )
    )
