"""Two spectral cases: Welch estimates of a short record by a direct transform, and bands narrower than a line.

Run: python3 test/reference/generators/spectral_cases.py > out.json && mv out.json test/reference/data/spectral-cases.json
The inputs stand in the data file itself and are taken as exact doubles; this program renews the expected values in 40 digits,
from the definitions given there as the task. No code of the package takes part.
"""
import json
import pathlib

from mpmath import conj, cos, exp, fabs, mp, mpc, mpf, pi, sqrt

mp.dps = 40
DATA = pathlib.Path(__file__).parent.parent / 'data' / 'spectral-cases.json'


def transforms(samples, length, hop):
    window = [mpf(1) / 2 - cos(2 * pi * n / length) / 2 for n in range(length)]
    result = []
    for start in range(0, len(samples) - length + 1, hop):
        part = [mpf(value) for value in samples[start:start + length]]
        mean = sum(part) / length
        tapered = [w * (value - mean) for w, value in zip(window, part)]
        result.append([
            sum(value * exp(mpc(0, -2 * pi * k * n / length)) for n, value in enumerate(tapered))
            for k in range(length // 2 + 1)
        ])
    return result, sum(w * w for w in window)


def pair(z):
    return [float(z.real), float(z.imag)]


def welch(given):
    length, rate = given['segment'], mpf(given['fs'])
    X, power = transforms(given['x'], length, length - given['overlap'])
    Y, _ = transforms(given['y'], length, length - given['overlap'])
    lines = range(length // 2 + 1)

    def density(a, b, k):
        twice = 1 if k == 0 or 2 * k == length else 2
        return twice * sum(conj(p[k]) * q[k] for p, q in zip(a, b)) / len(a) / rate / power

    Sxx, Syy = ([density(a, a, k).real for k in lines] for a in (X, Y))
    Sxy = [density(X, Y, k) for k in lines]
    return {
        'segments': len(X),
        'f': [float(k * rate / length) for k in lines],
        'Sxx': [float(value) for value in Sxx],
        'Syy': [float(value) for value in Syy],
        'Sxy': [pair(value) for value in Sxy],
        # not compared at 0 Hz, where the mean was taken out
        'H1': [None] + [pair(a / b) for a, b in zip(Sxy[1:], Sxx[1:])],
        'coherence': [None] + [float(fabs(z) ** 2 / a / b) for z, a, b in zip(Sxy[1:], Sxx[1:], Syy[1:])],
        'sum_Sxx_df': float(sum(Sxx) * rate / length),
    }


def bands(given):
    levels = []
    for index in given['bands']:
        centre = mpf(10) ** (mpf(index) / 10)
        lower, upper = centre / mpf(10) ** mpf('0.05'), centre * mpf(10) ** mpf('0.05')
        square = mpf(given['S0']) * (upper - lower)
        levels.append({key: float(value) for key, value in (
            ('centre', centre), ('lower', lower), ('upper', upper), ('mean_square', square), ('rms', sqrt(square)))})
    return {'levels': levels}


if __name__ == '__main__':
    segments, narrow = json.loads(DATA.read_text())
    print(json.dumps([
        {**segments, 'expected': welch(segments['input'])},
        {**narrow, 'expected': bands(narrow['input'])},
    ], indent=1))
