"""Reference densities, cross densities and coherences of the measured records by SciPy, for test/reference/vibration-cross.test.ts.

Run: /usr/bin/python3 test/reference/generators/records.py > test/reference/data/records.json
Every 37th line is kept, and the largest entry of each list.
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


cases = [
    case('suburban-microtremor', 'suburban_microtremor', 100, 'vel_Z', 'vel_N', 4096),
    case('tower-floors-ambient', 'tower_floors_ambient', 200, 'basement_E', 'floor20_E', 1024),
    case('tower-strong-motion-io', 'tower_strong_motion_io', 200, 'basement_E', 'roof_E', 4096),
    case('colocated-velocity-acceleration', 'colocated_velocity_acceleration', 100, 'vel_Z', 'acc_Z', 4096),
    case('quiet-hill-velocity', 'quiet_hill_velocity', 100, 'vel_N', 'vel_E', 2003, 0.5, 'blackmanharris', 'linear'),
    case('four-accelerometers-3200Hz', 'four_accelerometers_3200Hz', 3200, 'a1_1Z', 'a4_1Z_set2', 4095, 0.75, 'flattop'),
]
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
