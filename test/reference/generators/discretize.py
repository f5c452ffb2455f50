"""Discrete equivalents by SciPy, for test/reference/discretize.test.ts.

Run: /usr/bin/python3 test/reference/generators/discretize.py > test/reference/data/discretize.json
Holds: scipy.signal.cont2discrete. Bilinear with prewarp: the same function on A/w, B/w with the step 2 tan(w T/2), since
s = w/tan(w T/2) (z - 1)/(z + 1) is the plain map in time scaled by w. States of SciPy's forms may differ from others' by a
transformation, so that responses at z = exp(j 2 pi f T) are compared, and matrices for the zero-order hold only.
"""
import json
import sys

import numpy as np
import scipy
from scipy.signal import cont2discrete

SYSTEMS = {
    'triple integrator behind a lag': (
        [[0, 1, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1], [0, 0, 0, -20]], [[0], [0], [0], [20]], [[1, 0, 0, 0]], [[0]]),
    'two inputs, two outputs, direct gain': (
        [[-1, 2, 0.5], [-3, -0.2, 1], [0, 0.25, -4]], [[1, 0], [0.5, 2], [0, 1]], [[1, 0, 3], [0, 1, 0]], [[0, 0.5], [1, 0]]),
    'light resonance': ([[0, 1], [-400, -0.04]], [[0], [400]], [[1, 0]], [[0]]),
    'unstable pole': ([[2, 1], [0, -5]], [[0], [1]], [[1, 1]], [[0.25]]),
}
METHODS = {'zero-order-hold': 'zoh', 'first-order-hold': 'foh', 'bilinear': 'bilinear'}
FREQUENCIES = [0.1, 1.0, 3.0, 4.9]
STEP = 0.1
PREWARP = 3.0


def response(A, B, C, D):
    values = []
    for f in FREQUENCIES:
        z = np.exp(2j * np.pi * f * STEP)
        G = C @ np.linalg.solve(z * np.eye(len(A)) - A, B) + D
        values.append([[[value.real, value.imag] for value in row] for row in G])
    return values


def case(name, method, prewarp):
    A, B, C, D = [np.array(M, float) for M in SYSTEMS[name]]
    w = 2 * np.pi * prewarp if prewarp else 1.0
    step = 2 * np.tan(w * STEP / 2) if prewarp else STEP
    Ad, Bd, Cd, Dd, _ = cont2discrete((A / w, B / w, C, D), step, METHODS[method])
    return {
        'system': name, 'A': A.tolist(), 'B': B.tolist(), 'C': C.tolist(), 'D': D.tolist(),
        'method': method, 'sampleTime': STEP, 'prewarp': prewarp, 'frequency': FREQUENCIES,
        'Ad': Ad.tolist(), 'Bd': Bd.tolist(), 'response': response(Ad, Bd, Cd, Dd),
    }


cases = [case(name, method, None) for name in SYSTEMS for method in METHODS]
cases += [case(name, 'bilinear', PREWARP) for name in SYSTEMS]
json.dump({
    'source': f'SciPy {scipy.__version__}, NumPy {np.__version__}, by test/reference/generators/discretize.py',
    'units': 'rad/s for A, s for sampleTime, Hz for prewarp and frequency; response [frequency][output][input][re, im]',
    'tolerance': 'relative to the largest entry, 1e-12: one exponential and one solve of well-conditioned matrices',
    'cases': cases,
}, sys.stdout)
