"""Responses of two systems whose states are mixed by an ill-conditioned similarity, with 40 digits.

The matrices stand in the data file itself and are taken as exact doubles; this program renews the expected values.
Run: python3 test/reference/generators/ill_conditioned_responses.py > out.json
     mv out.json test/reference/data/ill-conditioned-responses.json
"""
import json
import os

import mpmath as mp

mp.mp.dps = 40
path = os.path.join(os.path.dirname(__file__), '..', 'data', 'ill-conditioned-responses.json')
data = json.load(open(path))
for model in data['models'].values():
    A, B, C, D = (mp.matrix(model[key]) for key in 'ABCD')
    values = []
    for frequency in data['frequency']:
        s = mp.mpc(0, 2 * mp.pi * mp.mpf(frequency))
        entry = (C * mp.lu_solve(s * mp.eye(A.rows) - A, B) + D)[0, 0]
        values.append([float(entry.real), float(entry.imag)])
    model['response'] = values
print(json.dumps(data, indent=1))
