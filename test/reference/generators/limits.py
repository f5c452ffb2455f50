"""Active damping with a motor that saturates, for test/reference/limits.test.ts.

Run: python3 test/reference/generators/limits.py > test/reference/data/limits.json
Holds: the equations of motion of payload, geophone and lagging motor written out, integrated by SciPy's solve_ivp from sample to
sample (DOP853, relative 1e-11) with the clipped force in the right-hand side; no exponential, no event, no mode. A bound on the
rate is y' = clip((target - y)/1e-9 s, -rate, rate) by Radau. Converters: rounded by numpy at the samples, held between them. Also
the stretch to which an inverted payload, m x'' = k x + y with |y| <= L, can be caught: |x + v sqrt(m/k)| < L/k.
"""
import json

import numpy as np
from scipy.integrate import solve_ivp

BASE = dict(mass=100.0, stiffness=16e3, damping=100.0, gain=4000.0, sensor=0.5, sensorDamping=0.7, bandwidth=200.0)
CASES = [
    dict(name='force', value=5.0, **BASE),
    dict(name='force, hard', value=0.5, **BASE),
    dict(name='rate', rate=1000.0, **BASE),
    dict(name='force and rate', value=5.0, rate=1000.0, **BASE),
    dict(name='force and converters', value=5.0, signalStep=1e-4, commandStep=0.25, **BASE),
    dict(name='converters', signalStep=1e-4, commandStep=0.25, **BASE),
]
DT, COUNT, EVERY, LAG = 0.005, 401, 8, 1e-9


def push(k):
    return 100.0 if k < 20 else 0.0


def floor(k):
    return 2e-3 * np.sin(0.35 * k)


def simulate(c):
    w0, wa = 2 * np.pi * c['sensor'], 2 * np.pi * c['bandwidth']
    value, rate = c.get('value', np.inf), c.get('rate')
    digital = 'signalStep' in c
    held = 0.0

    def signal(x):  # sensor s^2/(s^2 + 2 z w s + w^2) of v, states p = v/(..)*w^2 and its rate over w
        return x[1] - 2 * c['sensorDamping'] * x[3] - x[2]

    def motor(x):
        return x[4]

    def rhs(t, x, k):
        share = t / DT
        force = push(k) + (push(k + 1) - push(k)) * share
        ground = floor(k) + (floor(k + 1) - floor(k)) * share
        stretch, v, p, q, a = x[:5]
        wanted = np.clip(a, -value, value)
        y = wanted if rate is None else x[5]
        command = -held if digital else -c['gain'] * signal(x)
        out = [v - ground, (-c['stiffness'] * stretch - c['damping'] * (v - ground) + y + force) / c['mass'],
               w0 * q, w0 * signal(x), wa * (command - a)]
        if rate is not None:
            out.append(np.clip((wanted - y) / LAG, -rate, rate))
        return out

    x = np.zeros(5 if rate is None else 6)
    velocity, actual = [], []
    for k in range(COUNT):
        if digital:
            measured = c['signalStep'] * np.round(signal(x) / c['signalStep'])
            held = c['commandStep'] * np.round(c['gain'] * measured / c['commandStep'])
        velocity.append(x[1])
        actual.append(np.clip(motor(x), -value, value) if rate is None else x[5])
        method = dict(method='DOP853', max_step=DT / 20) if rate is None else dict(method='Radau', max_step=DT / 200)
        tight = dict(rtol=1e-11, atol=1e-14) if rate is None else dict(rtol=1e-10, atol=1e-13)
        x = solve_ivp(rhs, (0, DT), x, args=(k,), **method, **tight).y[:, -1]
    return velocity, actual


def main():
    cases = []
    for c in CASES:
        velocity, actual = simulate(c)
        cases.append({**c, 'payloadVelocity': velocity[::EVERY], 'actuatorForce': actual[::EVERY]})
    source = {'source': __doc__, 'sampleTime': DT, 'count': COUNT, 'every': EVERY, 'cases': cases}
    print(json.dumps(source, separators=(',', ':')))


main()
