"""Crossovers and modulus margins of hard loops, in 40 digits.

Each loop is a sum of products of rational blocks, times e^(-s delay); the blocks are taken as
exact doubles. Without delay every value comes from the roots of a polynomial in w (|N|^2 - |D|^2, the imaginary part of
N D*, the derivative of |1 + L|^2); with delay from a scan of 40 000 points per loop and 2000 around each resonance, each
sign change polished to 30 digits. No code of the package takes part.

Run: /usr/bin/python3 test/reference/generators/margins.py > test/reference/data/margins.json
"""

import json

from mpmath import arg, degrees, exp, findroot, inf, mp, mpc, mpf, pi, polyroots

mp.dps = 40
LISTED_DOWN_TO = mpf("1e-3")


def multiply(a, b):
    out = [mpf(0)] * (len(a) + len(b) - 1)
    for i, x in enumerate(a):
        for j, y in enumerate(b):
            out[i + j] += x * y
    return out


def add(a, b):
    n = max(len(a), len(b))
    a, b = [mpf(0)] * (n - len(a)) + a, [mpf(0)] * (n - len(b)) + b
    return [x + y for x, y in zip(a, b)]


def strip(a):
    while len(a) > 1 and a[0] == 0:
        a = a[1:]
    return a


def rational(terms):
    num, den = [mpf(0)], [mpf(1)]
    for term in terms:
        n, d = [mpf(1)], [mpf(1)]
        for block in term:
            n = multiply(n, [mpf(x) for x in block["num"]])
            d = multiply(d, [mpf(x) for x in block["den"]])
        num, den = add(multiply(num, d), multiply(den, n)), multiply(den, d)
    return strip(num), strip(den)


def horner(a, s):
    value = mpf(0)
    for x in a:
        value = value * s + x
    return value


def on_axis(a):
    """Real and imaginary part of a(jw) as polynomials in w, descending."""
    n = len(a) - 1
    re, im = [], []
    for k, x in enumerate(a):
        power = (n - k) % 4
        re.append(x * [1, 0, -1, 0][power])
        im.append(x * [0, 1, 0, -1][power])
    return re, im


def derivative(a):
    n = len(a) - 1
    return [x * (n - k) for k, x in enumerate(a[:-1])] or [mpf(0)]


def positive_roots(a):
    a = strip(a)
    while len(a) > 1 and a[-1] == 0:
        a = a[:-1]
    if len(a) < 2:
        return []
    roots = polyroots(a, maxsteps=2000, extraprec=800)
    return sorted(r.real for r in roots if r.real > 0 and abs(r.imag) < mpf("1e-25") * abs(r))


def sum_of_squares(pair):
    return add(multiply(pair[0], pair[0]), multiply(pair[1], pair[1]))


def negative(a):
    return [-x for x in a]


def without_delay(num, den):
    (nr, ni), (dr, di) = on_axis(num), on_axis(den)
    gain = positive_roots(add(sum_of_squares((nr, ni)), negative(sum_of_squares((dr, di)))))
    phase = positive_roots(add(multiply(ni, dr), negative(multiply(nr, di))))
    closed = add(num, den)
    p, q = sum_of_squares(on_axis(closed)), sum_of_squares((dr, di))
    still = positive_roots(add(multiply(derivative(p), q), negative(multiply(p, derivative(q)))))
    return gain, phase, still


def with_delay(loop, num, den):
    roots = [r for a in (num, den) if len(a) > 1 for r in polyroots(a, maxsteps=2000, extraprec=800)]
    sizes = [abs(r) for r in roots if abs(r) > 0] or [mpf(1)]
    top = max(sizes) * 10
    while abs(loop(top)) > LISTED_DOWN_TO / 4 or abs(loop(3 * top)) > LISTED_DOWN_TO / 4:
        top *= 2
    bottom = min(sizes) / 1000
    count = 20_000
    places = [bottom * (top / bottom) ** (mpf(k) / count) for k in range(count + 1)]
    places += [top * k / count for k in range(1, count + 1)]
    for r in roots:
        if r.imag > 0 and abs(r.real) < r.imag / 5:
            width = max(abs(r.real), r.imag * mpf("1e-9"))
            for k in range(-1000, 1001):
                offset = width * mpf(1.02) ** abs(k) * (1 if k > 0 else -1) if k else mpf(0)
                if abs(offset) < r.imag / 2:
                    places.append(r.imag + offset)
    places.sort()
    values = [loop(w) for w in places]
    level = lambda v: abs(v) - 1
    real = lambda v: v.imag
    distance = lambda v: abs(1 + v)
    gain, phase, still = [], [], []
    for (a, fa), (b, fb) in zip(zip(places, values), zip(places[1:], values[1:])):
        if level(fa) * level(fb) < 0:
            gain.append(findroot(lambda w: level(loop(w)), (a, b), solver="anderson"))
        if real(fa) * real(fb) < 0 and fa.real < 0 and fb.real < 0:
            phase.append(findroot(lambda w: real(loop(w)), (a, b), solver="anderson"))
    for k in range(1, len(places) - 1):
        if distance(values[k]) <= min(distance(values[k - 1]), distance(values[k + 1])):
            a, b = places[k - 1], places[k + 1]
            for _ in range(120):
                c, d = a + (b - a) * mpf("0.381966"), a + (b - a) * mpf("0.618034")
                a, b = (a, d) if distance(loop(c)) < distance(loop(d)) else (c, b)
            still.append((a + b) / 2)
    return gain, phase, still


def solve(case):
    num, den = rational(case["terms"])
    delay = mpf(case.get("delay", 0))
    loop = lambda w: horner(num, mpc(0, w)) / horner(den, mpc(0, w)) * exp(mpc(0, -w * delay))
    gain, phase, still = with_delay(loop, num, den) if delay else without_delay(num, den)
    phase = [w for w in phase if loop(w).real < 0]
    if delay:
        phase = [w for w in phase if abs(loop(w)) >= LISTED_DOWN_TO]
    places = [(abs(1 + loop(w)), w) for w in still]
    if den[-1] != 0:
        places.append((abs(1 + num[-1] / den[-1]), mpf(0)))
    end = num[0] / den[0] if len(num) == len(den) else mpf(0)
    places.append((abs(1 + end), inf))
    modulus, place = min(places)
    margin = [degrees(arg(-loop(w))) for w in gain]
    return {
        "gainCrossovers": [[float(w / (2 * pi)), float(m)] for w, m in zip(gain, margin)],
        "phaseCrossovers": [[float(w / (2 * pi)), float(1 / abs(loop(w)))] for w in phase],
        "modulusMargin": float(modulus),
        "modulusMarginFrequency": None if place == inf else float(place / (2 * pi)),
    }


def resonance(w, z, gain):
    return {"num": [gain * w, 0.0], "den": [1.0, 2 * z * w, w * w]}


lag = lambda k, w: {"num": [k * w], "den": [1.0, w]}
integrator = {"num": [1.0], "den": [1.0, 0.0]}
CASES = [
    ("conditionally stable, two phase crossovers", [[{"num": [30.0, 60.0, 30.0], "den": [1.0, 0.0, 0.0, 0.0]}, lag(1.0, 50.0), lag(1.0, 80.0)]], 0),
    ("three gain crossovers", [[lag(4.0, 1.0)], [{"num": [9.0], "den": [1.0, 0.3, 100.0]}]], 0),
    ("seven gain crossovers", [[lag(3.0, 2.0)], [resonance(30.0, 0.01, 0.2)], [resonance(100.0, 0.003, 0.02)], [resonance(400.0, 0.001, 0.01)]], 0),
    ("a resonance of damping 1e-5 above 1 in a band of 2e-5 only", [[lag(0.5, 12.0)], [resonance(188.0, 1e-5, 3e-5)]], 0),
    ("the same behind a delay of several turns", [[lag(0.5, 12.0)], [resonance(188.0, 1e-5, 3e-5), lag(1.0, 500.0)]], 0.05),
    ("two resonances of damping 1e-5, a millionth apart", [[resonance(50.0, 1e-5, 1e-4)], [resonance(50.00005, 1e-5, -4e-5)]], 0),
    ("a dip of damping 1e-6 in a loop above 1", [[lag(20.0, 1.0), {"num": [1.0, 1.4e-5, 49.0], "den": [1.0, 1.4, 49.0]}]], 0),
    ("negative at zero", [[{"num": [-0.8, -0.4], "den": [1.0, 0.7, 0.5]}, lag(1.0, 4.0)]], 0),
    ("a negative end", [[{"num": [-0.4, 1.0, 2.0], "den": [1.0, 0.3, 1.0]}]], 0),
    ("an unstable plant held stable between two gains", [[{"num": [6.0, 6.0], "den": [1.0, -1.0]}, lag(1.0, 10.0), lag(1.0, 15.0)]], 0),
    ("a triple integrator with a double lead", [[integrator, integrator, integrator, {"num": [2.0, 2.0, 0.5], "den": [1.0]} , lag(1.0, 20.0), lag(1.0, 20.0)]], 0),
    ("an integrator with delay", [[integrator, {"num": [0.9], "den": [1.0]}, lag(1.0, 3.0)]], 0.7),
    ("a resonance with delay, stable only between two gains", [[{"num": [60.0], "den": [1.0, 0.2, 100.0]}, lag(1.0, 30.0)]], 0.4),
    ("eight decades between the crossovers", [[lag(1e5, 1e-3)], [resonance(1e5, 1e-4, 1e-2)]], 0),
]

if __name__ == "__main__":
    cases = []
    for title, terms, delay in CASES:
        case = {"title": title, "terms": terms, "delay": delay}
        cases.append({**case, "expected": solve(case)})
    data = {
        "source": "computed with 40 digits (mpmath) from the rational functions and delays as written, no state space",
        "units": "coefficients in descending powers of s [rad/s]; delay s; frequencies Hz, null for infinity; crossovers as [frequency, phase margin in degrees or gain margin]",
        "tolerance": "stated in ../systems-margins.test.ts, each with its reason",
        "generator": "generators/margins.py",
        "cases": cases,
    }
    print(json.dumps(data, indent=1, ensure_ascii=False))
