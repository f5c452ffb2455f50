"""Reference densities, cross densities and medians by SciPy, for test/reference/vibration-welch.test.ts.

Run: /usr/bin/python3 test/reference/generators/welch.py > test/reference/data/welch.json
Each record is a fixed integer recursion scaled to (-1, 1), filtered a little so that lines differ in level.
"""
import json
import sys

import numpy as np
import scipy
import scipy.signal as signal

RATE = 250.0
SCIPY_WINDOW = {
    'rectangular': 'boxcar',
    'hann': 'hann',
    'hamming': 'hamming',
    'blackman': 'blackman',
    'blackman-harris': 'blackmanharris',
    'nuttall': 'nuttall',
    'bartlett': 'bartlett',
    'flat-top': 'flattop',
}
DETREND = {'mean': 'constant', 'linear': 'linear', 'none': False}


def noise(seed, count):
    state, values = seed, []
    for _ in range(count):
        state = (1664525 * state + 1013904223) % 2**32
        values.append(state / 2**31 - 1)
    return np.array(values)


def case(samples, segment, overlap, window, detrend, average):
    x = np.convolve(noise(7 * segment, samples), [1, 0.6, 0.2], 'same') + 0.3
    y = np.convolve(x, [0, 0.5, -0.25], 'same') + 0.1 * noise(11 * segment + 1, samples)
    x, y = np.round(x, 6), np.round(y, 6)
    shared = int(np.floor(overlap * segment + 1e-9))
    common = dict(fs=RATE, window=SCIPY_WINDOW[window], nperseg=segment, noverlap=shared, detrend=DETREND[detrend])
    frequency, density = signal.welch(x, average=average, **common)
    result = {
        'options': {'segmentLength': segment, 'overlap': overlap, 'window': window, 'detrend': detrend},
        'average': average,
        'x': x.tolist(),
        'frequency': frequency.tolist(),
        'density': density.tolist(),
    }
    if average == 'mean':
        _, cross = signal.csd(x, y, **common)
        _, output = signal.welch(y, **common)
        response = cross / density
        result |= {
            'y': y.tolist(),
            'outputDensity': output.tolist(),
            're': response.real.tolist(),
            'im': response.imag.tolist(),
            'coherence': (abs(cross) ** 2 / (density * output)).tolist(),
        }
    return result


cases = [
    case(64, 16, 0.5, 'hann', 'mean', 'mean'),
    case(60, 15, 0.5, 'hann', 'linear', 'mean'),
    case(80, 17, 0.75, 'hamming', 'none', 'mean'),
    case(97, 31, 0.25, 'blackman-harris', 'mean', 'mean'),
    case(120, 24, 0.0, 'flat-top', 'mean', 'mean'),
    case(101, 20, 2 / 3, 'nuttall', 'linear', 'mean'),
    case(90, 18, 0.5, 'blackman', 'none', 'mean'),
    case(75, 10, 0.5, 'bartlett', 'linear', 'mean'),
    case(70, 23, 0.5, 'rectangular', 'none', 'mean'),
    case(96, 16, 0.5, 'hann', 'mean', 'median'),
    case(95, 13, 0.5, 'hann', 'linear', 'median'),
]
json.dump(
    {
        'source': f'SciPy {scipy.__version__} signal.welch and signal.csd, periodic windows, one-sided density',
        'generator': 'test/reference/generators/welch.py',
        'units': 'x and y: 1; frequency: Hz; densities: 1/Hz; re, im, coherence: 1',
        'sampleRate': RATE,
        'tolerance': {'rel': 1e-9, 'note': 'relative to the largest entry of each list'},
        'cases': cases,
    },
    sys.stdout,
)
print()
