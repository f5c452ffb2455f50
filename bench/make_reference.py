"""Writes reference.json: the answers to the tasks of the comparison with 50 digits, from the doubles of models.json.

Needs mpmath. The sums are written out here; nothing of the library or of its peers takes part."""
import json
import os

from mpmath import e, expm, expj, findroot, log, matrix, mp, mpc, mpf, pi, quad, sqrt, zeros, lu_solve

mp.dps = 50
HERE = os.path.dirname(os.path.abspath(__file__))
with open(os.path.join(HERE, "models.json")) as file:
    models = json.load(file)


def pair(z):
    return [float(z.real), float(z.imag)]


def response(name, hertz):
    A, B, C, D = (matrix(models[name][key]) for key in "ABCD")
    values = []
    for f in hertz:
        s = mpc(0, 2 * pi * mpf(f))
        M = -A
        for i in range(A.rows):
            M[i, i] += s
        columns = [lu_solve(M, B[:, j]) for j in range(B.cols)]
        G = [[(C[i, :] * columns[j])[0] + D[i, j] for j in range(B.cols)] for i in range(C.rows)]
        values.append([[pair(G[i][j]) for j in range(B.cols)] for i in range(C.rows)])
    return dict(frequency=hertz, value=values)


def noise(count):
    """Minimal standard generator: integers that every language multiplies exactly in doubles."""
    values, x = [], 1
    for _ in range(count):
        x = 48271 * x % 2147483647
        values.append(x / 2147483647 - 0.5)
    return values


def simulation(name, step, count, every):
    """Samples with inputs that are lines in between."""
    A, B, C = (matrix(models[name][key]) for key in "ABC")
    n, h = A.rows, mpf(step)
    M = zeros(n + 2, n + 2)
    M[0:n, 0:n] = A * h
    M[0:n, n] = B * h
    M[n, n + 1] = 1
    E = expm(M, method="taylor")
    P, now, rise = E[0:n, 0:n], E[0:n, n], E[0:n, n + 1]
    u = noise(count)
    x, y = zeros(n, 1), []
    for k in range(count):
        if k > 0:
            x = P * x + now * u[k - 1] + rise * (u[k] - mpf(u[k - 1]))
        if k % every == 0:
            y.append(float((C * x)[0]))
    return dict(step=step, count=count, every=every, value=y)


def density(count, length, rate, lines):
    x = [mpf(v) for v in noise(count)]
    window = [(1 - mp.cos(2 * pi * i / length)) / 2 for i in range(length)]
    power = sum(w * w for w in window)
    table = [expj(-2 * pi * i / length) for i in range(length)]
    starts = range(0, count - length + 1, length // 2)
    sums = [mpf(0)] * len(lines)
    for start in starts:
        mean = sum(x[start : start + length]) / length
        weighted = [window[i] * (x[start + i] - mean) for i in range(length)]
        for j, line in enumerate(lines):
            X = sum((weighted[i] * table[i * line % length] for i in range(length)), mpc(0))
            sums[j] += abs(X) ** 2
    return dict(count=count, length=length, rate=rate, lines=lines,
                value=[float(2 * s / (rate * power * len(starts))) for s in sums])


def design_point(m, k, c, g, f0, ratio, bandwidth, tau):
    """The loop closed exactly, delay included: T = K/(m s² + K + s H), L = s H/(m s² + K)."""
    w0, wa = 2 * pi * mpf(f0), 2 * pi * mpf(bandwidth)

    def parts(f):
        s = mpc(0, 2 * pi * mpf(f))
        H = g * wa / (s + wa) * s**2 / (s**2 + 2 * mpf(ratio) * w0 * s + w0**2) * e ** (-s * mpf(tau))
        return s, k + c * s, H

    def T(f):
        s, K, H = parts(f)
        return K / (m * s**2 + K + s * H)

    def L(f):
        s, K, H = parts(f)
        return s * H / (m * s**2 + K)

    grid = [mpf(10) ** (-1 + mpf(3) * i / 399) for i in range(400)]
    peak = max(abs(T(f)) for f in grid)
    crossings = [i for i in range(399) if (abs(L(grid[i])) - 1) * (abs(L(grid[i + 1])) - 1) < 0]
    crossovers = [findroot(lambda f: log(abs(L(f))), (grid[i], grid[i + 1]), solver="anderson") for i in crossings]
    nearest = min(range(400), key=lambda i: abs(1 + L(grid[i])))
    distance = lambda f: abs(1 + L(f))
    slope = lambda f: mp.diff(distance, f)
    modulus = distance(findroot(slope, (grid[nearest - 1], grid[nearest + 1]), solver="anderson"))
    edges = [mpf(10) ** (-1 + mpf(3) * i / 60) for i in range(61)]
    power = quad(lambda f: abs(T(f)) ** 2 * mpf("1e-12"), edges)
    return dict(peak=float(peak), modulusMargin=float(modulus), crossover=[float(f) for f in crossovers],
                rms=float(sqrt(power)))


reference = dict(
    response12=response("siso12", [0.1, 0.5, 3.1, 20.7, 133.0, 1000.0]),
    response60=response("mimo60", [0.1, 1.7, 12.5, 140.0, 1000.0]),
    chain60=response("chain60", [0.01, 0.4, 6.0, 110.0, 3000.0]),
    simulate=simulation("siso12", 2e-4, 2000, 40),
    welch=density(34816, 4096, 1000, [1, 7, 100, 1000, 2040]),
    designPoint=design_point(900, 140000, 160, 14000, 0.4, 0.7, 200, 1e-3),
)
with open(os.path.join(HERE, "reference.json"), "w") as file:
    json.dump(reference, file)
print(json.dumps(reference["designPoint"]))
