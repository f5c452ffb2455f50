"""Second instances of the cases of data/systems.json, with other numbers, and a check of the first instances.

Everything is worked out in 60 to 100 digits (mpmath) or in exact rationals (fractions, sympy) from the doubles as written: no
code of the package takes part. The only exception is the number of unstable poles with delay, from Chebyshev collocation in
doubles (numpy), which the delay margin confirms.

Run:   /usr/bin/python3 test/reference/generators/systems.py > test/reference/data/systems-twins.json
Check: /usr/bin/python3 test/reference/generators/systems.py check   compares data/systems.json with what is computed here
"""

import json
import pathlib
import random
import sys
from fractions import Fraction

import numpy as np
import sympy
from mpmath import (arg, degrees, diag, exp, expm, eye, factorial, lu_solve, matrix, mp,
                    mpc, mpf, pi, polyroots, sqrt, tan)

import margins as loops

mp.dps = 60


def M(rows):
    return matrix([[mpf(x) for x in row] for row in rows])


def pair(z):
    z = mpc(z)
    return [float(z.real), float(z.imag)]


def poly_value(a, s):
    value = mpf(0)
    for x in a:
        value = value * s + x
    return value


def roots(a):
    a = loops.strip([mpf(x) for x in a])
    return polyroots(a, maxsteps=5000, extraprec=1000) if len(a) > 1 else []


def eigenvalues(A):
    """Roots of the characteristic polynomial by Faddeev and LeVerrier, in 150 digits."""
    with mp.workdps(150):
        n, N, a = A.rows, eye(A.rows), [mpf(1)]
        for k in range(1, n + 1):
            P = A * N
            a.append(-sum(P[i, i] for i in range(n)) / k)
            N = P + a[-1] * eye(n)
        found = roots(a)
    return sorted(found, key=lambda z: (float(abs(z)), float(z.imag)))


def response(A, B, C, D, s):
    return C * lu_solve_all(s * eye(A.rows) - A, B) + D


def lu_solve_all(A, B):
    X = matrix(A.rows, B.cols)
    for j in range(B.cols):
        x = lu_solve(A, B[:, j])
        for i in range(A.rows):
            X[i, j] = x[i]
    return X


def chain(mass, springs, dampers):
    n = len(mass)
    K, C = matrix(n, n), matrix(n, n)
    for S, links in ((K, springs), (C, dampers)):
        for p, q, value in links:
            for at, other in ((p, q), (q, p)):
                if at >= 0:
                    S[at, at] += mpf(value)
                    if other >= 0:
                        S[at, other] -= mpf(value)
    return K, C


def state_matrix(mass, K, C):
    n = len(mass)
    A = matrix(2 * n, 2 * n)
    for i in range(n):
        A[i, n + i] = 1
        for j in range(n):
            A[n + i, j], A[n + i, n + j] = -K[i, j] / mpf(mass[i]), -C[i, j] / mpf(mass[i])
    return A


def o01(mass, stiffness, damping):
    links = lambda values: [(i - 1, i, v) for i, v in enumerate(values)]
    K, C = chain(mass, links(stiffness), links(damping))
    squares = [-z for z in eigenvalues(M([[-K[i, j] / mpf(mass[i]) for j in range(K.cols)] for i in range(K.rows)]))]
    poles = eigenvalues(state_matrix(mass, K, C))
    return {
        "undamped_rad_s": [float(sqrt(z.real)) for z in sorted(squares, key=lambda z: z.real)],
        "poles": [pair(p) for p in poles],
        "stable": all(p.real < 0 for p in poles),
    }


def o02(num, den, omega):
    poles = roots(den)
    return {
        "poles": [pair(p) for p in poles],
        "stable": all(p.real < 0 for p in poles),
        "G": [pair(poly_value([mpf(x) for x in num], mpc(0, w)) / poly_value([mpf(x) for x in den], mpc(0, w))) for w in omega],
    }


def lyapunov_trace(A, B, C):
    """C X C' of A X + X A' + B B' = 0, as one linear system in the entries of X."""
    n = A.rows
    big, rhs, Q = matrix(n * n, n * n), matrix(n * n, 1), B * B.T
    for i in range(n):
        for j in range(n):
            rhs[i * n + j] = -Q[i, j]
            for k in range(n):
                big[i * n + j, k * n + j] += A[i, k]
                big[i * n + j, i * n + k] += A[j, k]
    x = lu_solve(big, rhs)
    return sum(C[0, i] * x[i * n + j] * C[0, j] for i in range(n) for j in range(n))


def o03(A, B, C, D):
    A, B, C, D = M(A), M(B), M(C), M(D)
    poles = eigenvalues(A)
    gain = lambda w: abs(response(A, B, C, D, mpc(0, w))[0])
    best = (gain(0), mpf(0))
    for p in poles:
        if p.imag > 0:
            low, high = p.imag + 3 * p.real, p.imag - 3 * p.real
            for _ in range(150):
                a, b = low + (high - low) * mpf("0.381966"), low + (high - low) * mpf("0.618034")
                low, high = (low, b) if gain(a) > gain(b) else (a, high)
            best = max(best, (gain((low + high) / 2), (low + high) / 2))
    return {"hinf": float(best[0]), "hinf_omega": float(best[1]), "h2": float(sqrt(lyapunov_trace(A, B, C))), "stable": True}


def o04(A, B, C, D, t, omega):
    exact = sympy.Matrix(A).applyfunc(sympy.Integer)
    (pole, count), = exact.eigenvals().items()
    a, n = -int(pole), int(count)
    assert (exact + a * sympy.eye(n)).rank() == n - 1
    A, B, C = M(A), M(B), M(C)
    transfer = lambda s: response(A, B, C, M(D), s)[0]
    assert abs(transfer(mpc(0, 1)) - (a / mpc(a, 1)) ** n) < mpf("1e-40")
    step = lambda x: 1 - exp(-a * x) * sum((a * x) ** k / factorial(k) for k in range(n))
    return {
        "poles": [[-float(a), 0.0]] * n,
        "stable": True,
        "step": [float(step(mpf(x))) for x in t],
        "G": [pair((a / mpc(a, w)) ** n) for w in omega],
    }


def o05(A, B, T):
    n = len(A)
    big = matrix(n + 1, n + 1)
    for i in range(n):
        big[i, n] = mpf(B[i][0]) * mpf(T)
        for j in range(n):
            big[i, j] = mpf(A[i][j]) * mpf(T)
    E = expm(big, method="taylor")
    Ad, Bd = E[:n, :n], E[:n, n]
    x = matrix(n, 1)
    for _ in range(5):
        x = Ad * x + Bd
    exact = lambda X: [[float(X[i, j]) for j in range(X.cols)] for i in range(X.rows)]
    return {"Ad": exact(Ad), "Bd": exact(Bd), "x_after_5": [float(v) for v in x]}


def o06(blocks, bands, t_check):
    num = loops.multiply(*[[mpf(x) for x in b["num"]] for b in blocks])
    den = loops.multiply(*[[mpf(x) for x in b["den"]] for b in blocks])
    poles = roots(den)
    derivative = loops.derivative(den)
    terms = [(p, poly_value(num, p) / (p * poly_value(derivative, p))) for p in poles]
    final = num[-1] / den[-1]
    y = lambda t: (final + sum(r * exp(p * t) for p, r in terms)).real
    slowest = -1 / max(p.real for p in poles)
    settling = {}
    for band in bands:
        outside = lambda t: abs(y(t) / final - 1) - mpf(band)
        end = slowest * 14
        count = 40_000
        with mp.workdps(25):
            last = max(k for k in range(count) if outside(end * k / count) > 0)
        low, high = end * last / count, end * (last + 1) / count
        for _ in range(120):
            middle = (low + high) / 2
            low, high = (middle, high) if outside(middle) > 0 else (low, middle)
        settling[repr(band)] = float(low)
    return {"final": float(final), "settling": settling, "y": [float(y(mpf(t))) for t in t_check]}


def unstable_count(num, den, delay, order=60):
    """Unstable poles of 1 + L with L = num/den e^(-s delay), by Chebyshev collocation of x' = A x + B u, u = -C x(t - delay)."""
    n = len(den) - 1
    num, den = [float(x / den[0]) for x in num], [float(x / den[0]) for x in den]
    A = np.zeros((n, n))
    A[:-1, 1:] = np.eye(n - 1)
    A[-1] = [-x for x in den[:0:-1]]
    C = np.zeros((1, n))
    C[0, : len(num)] = num[::-1]
    B = np.zeros((n, 1))
    B[-1, 0] = 1
    theta = np.cos(np.pi * np.arange(order + 1) / order)
    c = np.array([2.0] + [1.0] * (order - 1) + [2.0]) * (-1.0) ** np.arange(order + 1)
    gap = theta[:, None] - theta[None, :] + np.eye(order + 1)
    Dm = np.outer(c, 1 / c) / gap
    Dm -= np.diag(Dm.sum(axis=1))
    big = np.kron(2 / delay * Dm, np.eye(n))
    big[:n] = 0
    big[:n, :n] = A
    big[:n, -n:] = -B @ C
    found = np.linalg.eigvals(big)
    return int((found.real > 1e-6 * abs(found).min()).sum())


def o07(block1, block2, delay, omega_max):
    num, den = loops.rational([[block1], [block2]])
    loop = lambda w: loops.horner(num, mpc(0, w)) / loops.horner(den, mpc(0, w)) * exp(mpc(0, -w * mpf(delay)))
    with mp.workdps(40):
        gain, phase, still = loops.with_delay(loop, num, den)
    phase = [w for w in phase if loop(w).real < 0 and w <= omega_max]
    margin = [arg(-loop(w)) for w in gain]
    unstable = unstable_count(num, den, delay)
    modulus, place = min((abs(1 + loop(w)), w) for w in still)
    lags = [((m % (2 * pi)) / w) for m, w in zip(margin, gain)]
    return {
        "gain_crossovers": [float(w) for w in gain],
        "phase_margins_deg": [float(degrees(m)) for m in margin],
        "phase_crossovers": [float(w) for w in phase],
        "gain_margins": [float(1 / abs(loop(w))) for w in phase],
        "modulus_margin": float(modulus),
        "modulus_margin_omega": float(place),
        "closed_loop_stable": unstable == 0,
        "rhp_closed_loop_poles": unstable,
        "delay_margin": float(min(lags)) if unstable == 0 else None,
    }


def crossovers(num, den):
    num, den = [mpf(x) for x in num], [mpf(x) for x in den]
    gain, phase, _ = loops.without_delay(num, den)
    loop = lambda w: loops.horner(num, mpc(0, w)) / loops.horner(den, mpc(0, w))
    phase = [w for w in phase if loop(w).real < 0]
    closed = roots(loops.add(num, den))
    return {
        "closed_loop_stable": all(p.real < 0 for p in closed),
        "rhp_closed_loop_poles": sum(1 for p in closed if p.real > 0),
        "closed_loop_poles": [pair(p) for p in closed],
        "gain_crossovers": [float(w) for w in gain],
        "phase_margins_deg": [float(degrees(arg(-loop(w)))) for w in gain],
        "phase_crossovers": [float(w) for w in phase],
        "gain_margins": [float(1 / abs(loop(w))) for w in phase],
        "h2": "Infinity",
        "hinf": "Infinity",
    }


def o08(num, den, t):
    (k,), (one, a2, a1, a0) = map(Fraction, num), map(Fraction, den)
    assert one == 1 and a1 * a2 == a0 + k  # Routh, exact: (s + a2)(s² + a1)
    w, a = sqrt(mpf(int(a1))), mpf(int(a2))
    closed = [-a, mpc(0, w), mpc(0, -w)]
    value = lambda p: mpf(int(k)) / (p * (3 * p * p + 2 * a * p + w * w))
    final = mpf(int(k)) / (a * w * w)
    return {
        "classification": "marginal",
        "poles": [pair(p) for p in closed],
        "gain_margin": 1.0,
        "gain_margin_omega": float(w),
        "phase_margin_deg": 0.0,
        "step": [float((final + sum(value(p) * exp(p * mpf(x)) for p in closed)).real) for x in t],
        "settling_time": None,
    }


def o10(G, H, omega):
    first = lambda b: ([mpf(b["D"]), mpf(b["C"]) * mpf(b["B"]) - mpf(b["A"]) * mpf(b["D"])], [mpf(1), -mpf(b["A"])])
    (gn, gd), (hn, hd) = first(G), first(H)
    found = {}
    for name, sign in (("negative", 1), ("positive", -1)):
        num = loops.multiply(gn, hd)
        den = loops.add(loops.multiply(gd, hd), [sign * x for x in loops.multiply(gn, hn)])
        poles = roots(den)
        found[name] = {
            "poles": [pair(p) for p in poles],
            "zeros": [pair(z) for z in roots(num)],
            "D": float(num[0] / den[0]),
            "stable": all(p.real < 0 for p in poles),
            "G": [pair(poly_value(num, mpc(0, w)) / poly_value(den, mpc(0, w))) for w in omega],
        }
    return found


def o11(mass, springs, dampers, inputs, outputs, omega):
    K, C = chain(mass, springs, dampers)
    found = []
    for w in omega:
        w = mpf(w)
        Z = K + mpc(0, w) * C - w * w * diag([mpf(m) for m in mass])
        F = matrix(len(mass), len(inputs))
        for j, p in enumerate(inputs):
            F[p, j] = 1
        X = lu_solve_all(Z, F)
        found.append([[pair(X[p, j] * (-w * w if kind == "a" else 1)) for j in range(len(inputs))] for kind, p in outputs])
    return {"G": found}


def o12(A, B, C, D, omega, omega_near):
    """First input and output: 1/(s² + omega²); second: a lag; third: an unobservable oscillator, so a gain only."""
    w0, w = mpf(omega), mpf(omega_near)
    assert mpf(A[1][0]) == -w0 * w0 and mpf(A[4][3]) == -w0 * w0
    lag = mpf(C[1][2]) * mpf(B[2][1]) / (mpc(0, w0) - mpf(A[2][2]))
    zero, direct = [0.0, 0.0], [float(D[2][2]), 0.0]
    return {
        "G_at_omega": [["Infinity", zero, zero], [zero, pair(lag), zero], [zero, zero, direct]],
        "G11_near": pair(mpf(C[0][0]) * mpf(B[1][0]) / (w0 * w0 - w * w)),
        "stable": False,
        "classification": "marginal",
    }


def o13(n, a, b, d2, omega, D1, D2, D2b):
    a, b, d2 = mpf(a), mpf(b), mpf(d2)
    g = lambda s: 1 + b / (s + a)
    exact = lambda rows: sympy.Matrix([[sympy.Rational(x) for x in row] for row in rows])
    F, one = exact(D1), sympy.eye(2)
    assert (one + exact(D2) * F).det() == 0
    closed = F * (one + exact(D2b) * F).inv()
    pole = -(a + d2 * (a + b)) / (1 + d2)
    return {
        "loop1": {
            "G_diag": [pair(g(mpc(0, w)) / (1 + d2 * g(mpc(0, w)))) for w in omega],
            "pole": float(pole),
            "stable": bool(pole < 0),
            "well_posed": True,
        },
        "loop2": {"well_posed": False},
        "loop3": {"well_posed": True, "closed_D": [[float(closed[i, j]) for j in range(2)] for i in range(2)]},
    }


def o14(systems):
    """Common roots of all full-size minors of [A − sI, B; C, D], in exact rationals; square systems have one minor."""
    s = sympy.Symbol("s")
    found = []
    for one in systems:
        A, B, C, D = (sympy.Matrix([[sympy.Rational(x) for x in row] for row in one[k]]) for k in "ABCD")
        P = (A - s * sympy.eye(A.rows)).row_join(B).col_join(C.row_join(D))
        size = min(P.rows, P.cols)
        minors = [P.extract(list(r), list(c)).det(method="berkowitz") for r in sympy.utilities.iterables.subsets(range(P.rows), size)
                  for c in sympy.utilities.iterables.subsets(range(P.cols), size)]
        common = sympy.Poly(0, s)
        for minor in minors:
            common = sympy.gcd(common, sympy.Poly(minor, s))
        found.append([pair(mpc(*map(mpf, map(str, z.as_real_imag())))) for z in sympy.Poly(common, s).nroots(n=40, maxsteps=500)] if common.degree() > 0 else [])
    return {"zeros": found}


def o15(A1, T1, A2, T2, A3):
    with mp.workdps(100):
        (a, _), (c, d) = [[mpf(x) * mpf(T1) for x in row] for row in A1]
        E1 = [[exp(a), mpf(0)], [c * (exp(a) - exp(d)) / (a - d), exp(d)]]
        # Squaring by hand: a matrix of norm 1000s needs thousands of Taylor terms otherwise.
        def power(A, T):
            n = 2 ** 20
            E = expm(M(A) * mpf(T) / n, method="taylor")
            for _ in range(20):
                E = E * E
            return E
        rows = lambda X: [[float(X[i, j]) for j in range(X.cols)] for i in range(X.rows)]
        below = lambda x: 0.0 if abs(x) < mpf("1e-300") else float(x)
        return {"E1": [[below(x) for x in row] for row in E1], "E2": rows(power(A2, T2)), "E3": rows(power(A3, 1))}


def o16(order, delay, omega):
    with mp.workdps(100):
        a = [factorial(2 * order - k) * factorial(order) / (factorial(2 * order) * factorial(k) * factorial(order - k)) for k in range(order + 1)]
        under = [a[k] * mpf(delay) ** k for k in range(order, -1, -1)]
        value = lambda w: poly_value(under, mpc(0, -w)) / poly_value(under, mpc(0, w))
        poles = roots(under)
        phase = lambda w: -2 * sum(arg(1 - mpc(0, w) / p) for p in poles if p.imag == 0) - 2 * sum(
            arg(mpc(0, w) - p) - arg(-p) for p in poles if p.imag != 0)
        return {
            "poles": [pair(p) for p in poles],
            "rhp_poles": sum(1 for p in poles if p.real > 0),
            "G": [pair(value(mpf(w))) for w in omega],
            "phase": [float(phase(mpf(w))) for w in omega],
            "dcgain": 1.0,
        }


def o18(fs, n, order, multiples):
    centre, edge = mpf(10) ** (mpf(n) / 10), mpf(10) ** (mpf(1) / 20)
    warped = lambda f: tan(pi * f / mpf(fs))
    low, high = warped(centre / edge), warped(centre * edge)
    v = lambda f: (warped(f) ** 2 - low * high) / ((high - low) * warped(f))
    gain = lambda f: 1 / sqrt(1 + v(f) ** (2 * order))
    radius = []
    for k in range(order):
        p = exp(mpc(0, pi * (2 * k + order + 1) / (2 * order))) * (high - low) / 2
        for sign in (1, -1):
            w = p + sign * sqrt(p * p - low * high)
            radius.append(abs((1 + w) / (1 - w)))
    return {
        "gain": [float(gain(centre * mpf(m))) for m in multiples] + [float(gain(centre / edge)), float(gain(centre * edge))],
        "max_pole_radius": float(max(radius)),
        "stable": bool(max(radius) < 1),
    }


SOLVE = {
    "O01": o01, "O02": o02, "O03": o03, "O04": o04, "O05": o05, "O06": o06, "O07": o07, "O08": o08, "O09": crossovers,
    "O10": o10, "O11": o11, "O12": o12, "O13": o13, "O14": o14, "O15": o15, "O16": o16, "O18": o18,
}


def hidden_chain(a, n, seed):
    """(a/(s + a))^n as a chain, hidden by an integer similarity of determinant 1."""
    rng = random.Random(seed)
    A = sympy.zeros(n, n)
    for i in range(n):
        A[i, i] = -a
        if i:
            A[i, i - 1] = 1
    B, C = sympy.zeros(n, 1), sympy.zeros(1, n)
    B[0], C[n - 1] = 1, a ** n
    T = sympy.eye(n)
    for _ in range(3 * n):
        i, j = rng.sample(range(n), 2)
        T[i, :] = T[i, :] + rng.choice([-1, 1]) * T[j, :]
    A, B, C = T * A * T.inv(), T * B, C * T.inv()
    rows = lambda X: [[float(x) for x in X.row(i)] for i in range(X.rows)]
    return {"A": rows(A), "B": rows(B), "C": rows(C), "D": [[0.0]]}


def mass_network(count, seed):
    rng = random.Random(seed)
    three = lambda x: float(f"{x:.3g}")
    wide = lambda low, high: three(low * (high / low) ** rng.random())
    links = [(i - 1, i) for i in range(count)] + [tuple(sorted(rng.sample(range(count), 2))) for _ in range(count // 3)]
    return {
        "mass": [wide(0.1, 1e5) for _ in range(count)],
        "springs": [[p, q, wide(1e3, 1e9)] for p, q in links],
        "dampers": [[p, q, wide(1e-3, 30.0)] for p, q in links],
        "inputs": [0, count // 3, count - 1],
        # Accelerations of heavy masses: of a light one between stiff springs nothing is left in doubles at low frequency.
        "outputs": [["x", 1], ["x", count - 1], ["a", 4], ["a", 9]],
        "omega": [0.3, 8.0, 150.0, 4000.0],
    }


def companion(num, den, seed):
    """A realisation of num/den in mixed coordinates, whole numbers if the coefficients are."""
    n, rng = len(den) - 1, random.Random(seed)
    A = sympy.zeros(n, n)
    for i in range(n - 1):
        A[i, i + 1] = 1
    for j in range(n):
        A[n - 1, j] = -den[n - j]
    B, C = sympy.zeros(n, 1), sympy.zeros(1, n)
    B[n - 1] = 1
    direct = num[-n - 1] if len(num) > n else 0
    for j in range(n):
        C[j] = (num[-1 - j] if j < len(num) else 0) - direct * den[n - j]
    T = sympy.eye(n)
    for _ in range(2 * n):
        i, j = rng.sample(range(n), 2)
        T[i, :] = T[i, :] + rng.choice([-1, 1]) * T[j, :]
    rows = lambda X: [[float(x) for x in X.row(i)] for i in range(X.rows)]
    return {"A": rows(T * A * T.inv()), "B": rows(T * B), "C": rows(C * T.inv()), "D": [[float(direct)]]}


def spread_polynomial():
    den = [mpf(1)]
    for factor in ([1, "3e-4"], [1, "4e-3"], [1, "0.05"], [1, "0.8"], [1, "0.06", 625], [1, 1200], [1, 20000]):
        den = loops.multiply(den, [mpf(x) for x in factor])
    return [float(x) for x in den]


def two_resonances(w1, z1, c1, w2, z2, c2):
    return {
        "A": [[0.0, 1.0, 0.0, 0.0], [-w1 * w1, -2 * z1 * w1, 0.0, 0.0], [0.0, 0.0, 0.0, 1.0], [0.0, 0.0, -w2 * w2, -2 * z2 * w2]],
        "B": [[0.0], [1.0], [0.0], [1.0]],
        "C": [[c1, 0.0, c2, 0.0]],
        "D": [[0.0]],
    }


TWINS = {
    "O01": ("Four masses in series, other numbers", {"mass": [0.2, 60000.0, 3.0, 1500.0], "stiffness": [4e8, 7000.0, 2e6, 9e4], "damping": [0.3, 900.0, 6.0, 25.0]}),
    "O02": ("Poles over eight decades, other numbers", {"num": [9000.0], "den": spread_polynomial(), "omega": [0.0002, 0.03, 2.0, 60.0, 9000.0]}),
    "O03": ("Two resonances of damping 1e-5 and 2e-5: the lower one is the true peak", two_resonances(2.9, 1e-5, 1.0, 57.3, 2e-5, 300.0)),
    "O04": ("A fourfold pole at −3 hidden by an integer similarity", {**hidden_chain(3, 4, 11), "t": [0.2, 0.9, 2.0, 5.0], "omega": [0.2, 3.0, 40.0]}),
    "O05": ("A double integrator behind two lags, held at zero order", {"A": [[0.0, 1.0, 0.0, 0.0], [0.0, 0.0, 1.0, 0.0], [0.0, 0.0, -7.0, 1.0], [0.0, 0.0, 0.0, -300.0]], "B": [[0.0], [0.0], [0.0], [300.0]], "T": 0.004}),
    "O06": ("A slow tail below the final value instead of above", {"blocks": [{"num": [1.02, 0.05], "den": [1.0, 0.05]}, {"num": [81.0], "den": [1.0, 9.0, 81.0]}], "bands": [0.04, 0.015, 0.004, 0.001], "t_check": [0.5, 2.0, 10.0]}),
    "O07": ("A loop with delay that is unstable when closed, with three gain crossovers", {"block1": {"num": [6.0], "den": [0.5, 1.0]}, "block2": {"num": [40.0], "den": [1.0, 0.5, 324.0]}, "delay": 0.25, "omega_max": 70.0}),
    "O08": ("Another loop exactly at the stability limit", {"num": [192.0], "den": [1.0, 9.0, 23.0, 15.0], "t": [0.5, 1.0, 3.0, 10.0]}),
    "O09": ("Another loop that is unstable when closed", {"num": [90.0], "den": [2.0, 11.0, 17.0, 6.0]}),
    "O10": ("Two other blocks with feedthrough", {"G": {"A": -0.5, "B": 2.0, "C": 1.5, "D": -0.25}, "H": {"A": -7.0, "B": 1.0, "C": -3.0, "D": 0.625}, "omega": [0.1, 1.0, 10.0, 10000.0]}),
    "O11": ("Twenty masses, three forces in and four motions out", mass_network(20, 5)),
    "O12": ("Another frequency exactly on an undamped resonance", {
        "A": [[0.0, 1.0, 0.0, 0.0, 0.0], [-400.0, 0.0, 0.0, 0.0, 0.0], [0.0, 0.0, -6.0, 0.0, 0.0], [0.0, 0.0, 0.0, 0.0, 1.0], [0.0, 0.0, 0.0, -400.0, 0.0]],
        "B": [[0.0, 0.0, 0.0], [2.5, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 0.0], [0.0, 0.0, 1.0]],
        "C": [[1.0, 0.0, 0.0, 0.0, 0.0], [0.0, 0.0, 5.0, 0.0, 0.0], [0.0, 0.0, 0.0, 0.0, 0.0]],
        "D": [[0.0, 0.0, 0.0], [0.0, 0.0, 0.0], [0.0, 0.0, -2.0]], "omega": 20.0, "omega_near": 20.00000000003}),
    "O13": ("Another tiny determinant, and another exact algebraic loop", {"n": 6, "a": 2.0, "b": 0.5, "d2": -0.9995, "omega": [0.0, 3.0, 500.0], "D1": [[1.0, 0.0], [3.0, 2.0]], "D2": [[4.0, -1.0], [-8.5, 1.5]], "D2b": [[4.0, -1.0], [-8.5, 2.0]]}),
    "O14": ("Six other systems", {"systems": [
        {"A": [[0.0, 1.0, 0.0], [0.0, 0.0, -2e4], [0.0, 0.3, -1500.0]], "B": [[0.0], [0.0], [70.0]], "C": [[1.0, 0.0, 0.0]], "D": [[0.0]]},
        companion([2, 5, 3], [1, 4, 6, 4], 2),
        {"A": [[-1.0, 0.0, 0.0], [0.0, -3.0, 0.0], [0.0, 0.0, -3.0]], "B": [[1.0, 1.0], [2.0, 0.0], [0.0, 1.0]], "C": [[1.0, 1.0, 0.0], [2.0, 0.0, 1.0]], "D": [[0.0, 0.0], [0.0, 0.0]]},
        {"A": [[0.0, 0.0, 1.0, 0.0], [0.0, 0.0, 0.0, 1.0], [-50.0, 8.0, 0.0, 0.0], [49.0, -49.0, 0.0, 0.0]], "B": [[0.0], [0.0], [0.25], [0.0]], "C": [[-50.0, 8.0, 0.0, 0.0]], "D": [[0.25]]},
        {"A": [[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [-30.0, -31.0, -10.0]], "B": [[0.0], [0.0], [1.0]], "C": [[3.0, 1.0, 0.0], [12.0, 7.0, 1.0]], "D": [[0.0], [0.0]]},
        {"A": [[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [-30.0, -31.0, -10.0]], "B": [[0.0], [0.0], [1.0]], "C": [[3.0, 1.0, 0.0], [4.0, 1.0, 0.0]], "D": [[0.0], [0.0]]},
    ]}),
    "O15": ("Three other exponentials", {"A1": [[-900.0, 0.0], [52000.0, -26000.0]], "T1": 0.2, "A2": [[-2.0, 1.5, 0.5, 0.0, 0.0], [0.0, -2.0, 0.0, 0.5, 1.5], [0.0, 0.0, 0.0, 0.0, 0.0], [0.0, 0.0, 0.0, 0.0, 0.0], [0.0, 0.0, 0.0, 0.0, 0.0]], "T2": 900.0, "A3": [[-0.2, -3e8, 0.0], [5e-11, 0.0, 0.0], [0.0, 2e-11, 0.0]]}),
    "O16": ("The Padé form of order eight of 20 ms", {"order": 8, "delay": 0.02, "omega": [1.0, 60.0, 300.0, 500.0]}),
    "O18": ("The one-third-octave filter of 2 Hz, order two, at 48 kHz", {"fs": 48000.0, "n": 3, "order": 2, "multiples": [0.5, 0.93, 1.0, 1.07, 2.0]}),
}


def difference(a, b):
    """Largest relative difference of two results; lists of complex pairs as sets where they are poles, zeros or eigenvalues."""
    if isinstance(a, dict):
        return max(difference(a[k], b[k]) for k in a if k in b)
    if isinstance(a, list) and a and isinstance(a[0], list) and len(a[0]) == 2 and all(isinstance(x, float) for x in a[0]):
        left, worst = [complex(*z) for z in b], 0.0
        for z in (complex(*z) for z in a):
            near = min(left, key=lambda x: abs(x - z))
            left.remove(near)
            worst = max(worst, abs(near - z) / (abs(z) or 1))
        return worst
    if isinstance(a, list):
        return max((difference(x, y) for x, y in zip(a, b, strict=True)), default=0.0)
    if isinstance(a, (bool, str)) or a is None:
        return 0.0 if a == b else float("inf")
    return abs(a - b) / (abs(a) or 1)


def check():
    data = json.loads((pathlib.Path(__file__).parent.parent / "data" / "systems.json").read_text())
    for case in data:
        found = SOLVE[case["id"][:3]](**case["input"])
        print(case["id"], f"{difference(case['expected'], found):.1e}")


if __name__ == "__main__":
    if sys.argv[1:] == ["check"]:
        check()
    else:
        cases = [{"twin": k, "title": title, "input": given, "expected": SOLVE[k](**given)} for k, (title, given) in TWINS.items()]
        lines = ",\n".join(json.dumps(case, ensure_ascii=False) for case in cases)
        print("[\n" + lines + "\n]")
