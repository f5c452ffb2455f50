"""Reference densities, cross densities and coherences of the measured records by SciPy, for test/reference/vibration-cross.test.ts.

Run: /usr/bin/python3 test/reference/generators/records.py > test/reference/data/records.json
Every channel of every record stands in one pair at least. Every 37th line is kept, and the largest entry of each list.
"""
import gzip
import json
import os
import sys

import numpy as np
import scipy
import scipy.signal as signal

DATA = os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', '..', 'data')
STEP = 37


def channels(folder, name):
    with gzip.open(os.path.join(DATA, folder, name + '.csv.gz'), 'rt') as file:
        _, head, *lines = file.read().strip().split('\n')
    table = np.array([[float(cell) for cell in line.split(',')] for line in lines])
    return dict(zip(head.split(','), table.T))


def case(folder, name, rate, x_name, y_name, segment, overlap=0.5, window='hann', detrend='constant'):
    record = channels(folder, name)
    x, y = record[x_name], record[y_name]
    common = dict(fs=rate, window=window, nperseg=segment, noverlap=int(overlap * segment), detrend=detrend)
    _, sxx = signal.welch(x, **common)
    _, syy = signal.welch(y, **common)
    _, sxy = signal.csd(x, y, **common)
    _, median = signal.welch(x, average='median', **common)
    _, coherence = signal.coherence(x, y, **common)
    kept = slice(0, None, STEP)
    return {
        'folder': folder,
        'name': name,
        'sampleRate': rate,
        'x': x_name,
        'y': y_name,
        'options': {
            'segmentLength': segment,
            'overlap': overlap,
            'window': {'blackmanharris': 'blackman-harris', 'flattop': 'flat-top'}.get(window, window),
            'detrend': {'constant': 'mean'}.get(detrend, detrend),
        },
        'largest': [sxx.max(), syy.max(), median.max()],
        'xDensity': sxx[kept].tolist(),
        'yDensity': syy[kept].tolist(),
        'median': median[kept].tolist(),
        're': sxy.real[kept].tolist(),
        'im': sxy.imag[kept].tolist(),
        'coherence': coherence[kept].tolist(),
    }


DEFAULT = [
    ('suburban-microtremor', 100, 4096),
    ('tower-floors-ambient', 200, 1024),
    ('tower-strong-motion-io', 200, 4096),
    ('colocated-velocity-acceleration', 100, 4096),
    ('quiet-hill-velocity', 100, 4096),
    ('four-accelerometers-3200Hz', 3200, 8192),
]
OTHER = [
    ('suburban-microtremor', 100, 'vel_Z', 'vel_E', 5003, 0.5, 'nuttall', 'constant'),
    ('tower-floors-ambient', 200, 'floor20_E', 'floor20_N', 1023, 0.25, 'hamming', 'linear'),
    ('quiet-hill-velocity', 100, 'vel_N', 'vel_E', 2003, 0.5, 'blackmanharris', 'linear'),
    ('four-accelerometers-3200Hz', 3200, 'a1_1Z', 'a4_1Z_set2', 4095, 0.75, 'flattop', 'constant'),
]

cases = []
for folder, rate, segment in DEFAULT:
    name = folder.replace('-', '_')
    first, *others = channels(folder, name)
    cases += [case(folder, name, rate, first, other, segment) for other in others]
cases += [case(other[0], other[0].replace('-', '_'), *other[1:]) for other in OTHER]
json.dump(
    {
        'source': f'SciPy {scipy.__version__} signal.welch, signal.csd and signal.coherence',
        'generator': 'test/reference/generators/records.py',
        'step': STEP,
        'cases': cases,
    },
    sys.stdout,
)
print()
