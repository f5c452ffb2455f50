"""Rigid payloads in six axes from finite rotations, for test/reference/six-axis.test.ts.

Run: python3 test/reference/generators/six_axis.py > test/reference/data/six-axis.json
Holds: forces of mounts that turn with the floor and hold the payload with vertical loads at rest, and the weight, written for
finite rotations (Rodrigues) in the frame at rest; linearised by central differences at 50 digits; solved per frequency about
the centre of mass. No stiffness matrix, no gravity term and no state is taken over from the package.
"""
import json

from mpmath import cos, diag, eye, exp, lu_solve, matrix, mp, mpc, mpf, pi, sin, sqrt, zeros

mp.dps = 50
STEP = mpf(10) ** -15
G = mpf('9.80665')


def cross(a, b):
    return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]


def skew(a):
    return matrix([[0, -a[2], a[1]], [a[2], 0, -a[0]], [-a[1], a[0], 0]])


def rotation(v):
    angle = sqrt(v[0] ** 2 + v[1] ** 2 + v[2] ** 2)
    if angle == 0:
        return eye(3)
    k = skew([x / angle for x in v])
    return eye(3) + k * sin(angle) + k * k * (1 - cos(angle))


def plus(a, b):
    return [x + y for x, y in zip(a, b)]


def minus(a, b):
    return [x - y for x, y in zip(a, b)]


def apply(M, v):
    return [sum(M[i, j] * v[j] for j in range(3)) for i in range(3)]


def law(mount, s):
    """Dynamic stiffness of a mount, and of its gas where it is an air spring."""
    if 'airSpring' in mount:
        o = {k: v if isinstance(v, dict) else mpf(v) for k, v in mount['airSpring'].items()}
        p = mpf(101325) + o['load'] / o['area']
        first, second = o['volume'], mpf(o['dampingChamber']['volume'])
        resistance = mpf(o['dampingChamber']['flowResistance'])
        k = mpf('1.4') * p * o['area'] ** 2 / (first + second)
        tau = resistance * first * second / (mpf('1.4') * p * (first + second))
        gas = k + k * second / first * tau * s / (1 + tau * s)
        return gas + mpf(o.get('diaphragmDamping', 0)) * s, gas
    value = mpf(mount['stiffness']) + mpf(mount.get('damping', 0)) * s
    for branch in mount.get('relaxations', []):
        value += mpf(branch['stiffness']) * mpf(branch['time']) * s / (1 + mpf(branch['time']) * s)
    return value, 0


def sides(support):
    mount = support['mount']
    lateral = mount['airSpring']['lateral'] if 'airSpring' in mount else mount.get('lateral')
    return support.get('lateral') or [lateral, lateral]


def loads(payload):
    """Vertical loads by statics of three carriers, supports with one valve as one."""
    carriers = {}
    for i, support in enumerate(payload['supports']):
        carriers.setdefault(support.get('valveGroup', i), []).append(i)
    groups = list(carriers.values())
    c = payload['centreOfMass']
    A, b = zeros(3, len(groups)), matrix([mpf(payload['mass']) * gravity(payload), 0, 0])
    for g, members in enumerate(groups):
        A[0, g] = 1
        for axis in (0, 1):
            A[1 + axis, g] = sum(mpf(payload['supports'][i]['position'][axis]) for i in members) / len(members) - mpf(c[axis])
    if len(groups) > 3:  # equal mounts in a symmetric pattern about the centre of mass
        return groups, [b[0] / len(payload['supports'])] * len(payload['supports'])
    N = lu_solve(A, b)
    result = [0] * len(payload['supports'])
    for g, members in enumerate(groups):
        for i in members:
            result[i] = N[g] / len(members)
    return groups, result


def gravity(payload):
    return mpf(payload.get('gravity', G))


def wrench(options, s, pose):
    """Force and moment on the payload about its centre of mass, for finite motion of payload, floor and feet."""
    payload = options['payload']
    c = [mpf(x) for x in payload['centreOfMass']]
    ref = [mpf(x) for x in options.get('reference', c)]
    R, Rf = rotation(pose[3:6]), rotation(pose[9:12])
    centre = plus(plus(ref, pose[0:3]), apply(R, minus(c, ref)))
    groups, N = loads(payload)
    stretches, laws, frames, attached = [], [], [], []
    for i, support in enumerate(payload['supports']):
        r = [mpf(x) for x in support['position']]
        place = plus(plus(ref, pose[0:3]), apply(R, minus(r, ref)))
        foot = plus(plus(plus(ref, pose[6:9]), apply(Rf, minus(r, ref))), pose[12 + 3 * i:15 + 3 * i])
        Q = matrix(support.get('orientation', [[1, 0, 0], [0, 1, 0], [0, 0, 1]]))
        stretches.append(apply(Q.T, apply(Rf.T, minus(place, foot))))
        x, y = sides(support)
        laws.append([law(x, s)[0], law(y, s)[0], law(support['mount'], s)[0]])
        frames.append(Q)
        attached.append(place)
    pulls = [[laws[i][k] * stretches[i][k] for k in range(3)] for i in range(len(laws))]
    if 'levelling' in options:
        for members in groups:
            height = sum(stretches[i][2] for i in members) / len(members)
            for i in members:
                mount = payload['supports'][i]['mount']
                area = mpf(mount['airSpring']['area'])
                pulls[i][2] += law(mount, s)[1] * mpf(options['levelling']['flowGain']) / area / s * height
    force, moment = [0, 0, -mpf(payload['mass']) * gravity(payload)], [0, 0, 0]
    for i, pull in enumerate(pulls):
        own = apply(Rf, minus([0, 0, N[i]], apply(frames[i], pull)))
        force = plus(force, own)
        moment = plus(moment, cross(minus(attached[i], centre), own))
    return force + moment


def control(options, s, ref):
    """Wrench at the reference per displacement at the reference, of sensors and actuators with tilt."""
    damping, g = options['damping'], gravity(options['payload'])

    def line(entry):
        d = [mpf(x) for x in entry['direction']]
        size = sqrt(sum(x * x for x in d))
        d = [x / size for x in d]
        return d, d + cross(minus([mpf(x) for x in entry['position']], ref), d)

    def sharing(rows):
        L = matrix(rows)
        return [L * lu_solve(L.T * L, matrix([1 if 'X Y Z Rx Ry Rz'.split()[k] == loop['axis'] else 0 for k in range(6)]))
                for loop in damping['loops']]

    sensed = []
    for entry in damping['sensors']:
        d, row = line(entry)
        tilt = [0, 0, 0, g * d[1] / s ** 2, -g * d[0] / s ** 2, 0]
        if 'sensor' in entry:
            w, z = 2 * pi * mpf(entry['sensor']['naturalFrequency']), mpf(entry['sensor']['dampingRatio'])
            S = s ** 2 / (s ** 2 + 2 * z * w * s + w ** 2)
        else:
            S, tilt = mpf(1), [0] * 6
        sensed.append([S * s * (a + b) for a, b in zip(row, tilt)])
    Cs = sharing([line(entry)[1] for entry in damping['sensors']])
    Ca = sharing([line(entry)[1] for entry in damping['actuators']])
    W = zeros(6, 6)
    for k, loop in enumerate(damping['loops']):
        signal = [sum(Cs[k][i] * sensed[i][j] for i in range(len(sensed))) for j in range(6)]
        for n, entry in enumerate(damping['actuators']):
            A = mpf(1)
            if 'actuator' in entry:
                w = 2 * pi * mpf(entry['actuator']['bandwidth'])
                A = w / (s + w)
            row = line(entry)[1]
            factor = -mpf(loop['gain']) * Ca[k][n] * A * exp(-s * mpf(damping.get('delay', 0)))
            for i in range(6):
                for j in range(6):
                    W[i, j] += row[i] * factor * signal[j]
    return W


def position(options, s):
    """Wrench at the reference per relative displacement there, of position loops along axes with equal actuators."""
    W, damping = zeros(6, 6), options['damping']
    w = 2 * pi * mpf(damping['actuators'][0]['actuator']['bandwidth'])
    for loop in damping['loops']:
        if 'position' in loop:
            k = 'X Y Z Rx Ry Rz'.split().index(loop['axis'])
            law = mpf(loop['position']['stiffness']) * (1 + mpf(loop['position']['integralRate']) / s)
            W[k, k] -= law * w / (s + w) * exp(-s * mpf(damping['delay']))
    return W


def responses(options, frequency):
    s = mpc(0, 2 * pi * mpf(frequency))
    payload = options['payload']
    feet = 3 * len(payload['supports'])
    J = zeros(6, 12 + feet)
    for k in range(12 + feet):
        up, down = [mpf(0)] * (12 + feet), [mpf(0)] * (12 + feet)
        up[k], down[k] = STEP, -STEP
        for i, (a, b) in enumerate(zip(wrench(options, s, up), wrench(options, s, down))):
            J[i, k] = (a - b) / (2 * STEP)
    c = [mpf(x) for x in payload['centreOfMass']]
    ref = [mpf(x) for x in options.get('reference', c)]
    T, M = eye(6), zeros(6, 6)
    lever = skew(minus(c, ref))
    inertia = payload['inertia']
    for i in range(3):
        M[i, i] = mpf(payload['mass'])
        for j in range(3):
            T[i, 3 + j] = -lever[i, j]
            M[3 + i, 3 + j] = mpf(inertia[i][j]) if isinstance(inertia[0], list) else (mpf(inertia[i]) if i == j else 0)
    # A force at the reference turns the payload about its centre of mass: moment (ref − c) × F.
    F = eye(6)
    for i in range(3):
        for j in range(3):
            F[3 + i, j] = -lever[i, j]
    D = s ** 2 * M * T - J[:, 0:6]
    if 'damping' in options:
        D -= F * control(options, s, ref)
    held = zeros(6, 6)
    if 'damping' in options:
        held = F * position(options, s)
        D -= held
    # A position loop acts on motion relative to the floor.
    blocks = {'floor': lu_solve_all(D, J[:, 6:12] - held), 'force': s * lu_solve_all(D, F)}
    if options.get('feet') == 'independent':
        blocks['feet'] = lu_solve_all(D, J[:, 12:])
    return blocks


def lu_solve_all(D, R):
    X = zeros(6, R.cols)
    for j in range(R.cols):
        column = lu_solve(D, R[:, j])
        for i in range(6):
            X[i, j] = column[i]
    return X


def numbers(X):
    return [[[float(X[i, j].real), float(X[i, j].imag)] for j in range(X.cols)] for i in range(X.rows)]


def corners(x, y, z):
    return [[a, b, z] for a in (-x, x) for b in (-y, y)]


BOX = {'mass': 1000, 'inertia': [136.5, 240.75, 270.875], 'centreOfMass': [0, 0, 0], 'supports': [
    {'position': p, 'mount': {'stiffness': 88826.5, 'damping': 300, 'lateral': {'stiffness': 44413.25, 'damping': 150}}}
    for p in corners(0.625, 0.375, -0.5)]}
SKEW = {'mass': 640, 'inertia': [[60, -6, 4], [-6, 80, 5], [4, 5, 90]], 'centreOfMass': [0.125, -0.0625, 0.375], 'supports': [
    {'position': [-0.75, -0.625, 0], 'mount': {'stiffness': 60000, 'relaxations': [{'stiffness': 90000, 'time': 0.0625}]},
     'lateral': [{'stiffness': 30000, 'damping': 100}, {'stiffness': 40000, 'relaxations': [{'stiffness': 20000, 'time': 0.0625}]}]},
    {'position': [0.875, -0.5, 0.125], 'mount': {'stiffness': 70000, 'damping': 200, 'lateral': {'stiffness': 35000}},
     'orientation': [[0.6, 0, 0.8], [0, 1, 0], [-0.8, 0, 0.6]]},
    {'position': [0, 0.75, -0.125], 'mount': {'stiffness': 80000, 'relaxations': [{'stiffness': 50000, 'time': 0.03125}]},
     'lateral': [{'stiffness': 20000}, {'stiffness': 25000, 'damping': 50}]}]}


def air(load, group=None, position=None):
    spring = {'area': 0.0125, 'volume': 0.002, 'load': load, 'diaphragmDamping': 64,
              'dampingChamber': {'volume': 0.004, 'flowResistance': 4e6}, 'lateral': {'stiffness': 40000, 'damping': 200}}
    return {'position': position, 'mount': {'airSpring': spring}, **({'valveGroup': group} if group else {})}


WEIGHT = 1000 * 9.80665
TABLE = {'mass': 1000, 'inertia': [140, 220, 300], 'centreOfMass': [0.125, 0.0625, 0.25], 'supports': [
    air(WEIGHT * 0.4375 / 2, 'back', [-0.5, -0.5, 0]), air(WEIGHT * 0.4375 / 2, 'back', [0.5, -0.5, 0]),
    air(WEIGHT * 0.15625, None, [-0.5, 0.5, 0]), air(WEIGHT * 0.40625, None, [0.5, 0.5, 0])]}
# Moments about the centre of mass: 0.4375·(0 − 0.125) + 0.15625·(−0.625) + 0.40625·0.375 = 0, in y −0.4375·0.5625 + 0.5625·0.4375 = 0.
DAMPED = {
    'sensors': [{'position': p, 'direction': d, 'sensor': {'naturalFrequency': 0.5, 'dampingRatio': 0.7}} for p, d in [
        ([0.5, 0.4, -0.3], [0, 0, 1]), ([-0.5, 0.4, -0.3], [0, 0, 1]), ([0, -0.4, -0.3], [0, 0, 2]),
        ([0.5, 0, -0.2], [0, 1, 0]), ([-0.5, 0, -0.3], [0, 1, 0]), ([0, 0.4, -0.3], [1, 1, 0]), ([0, -0.4, 0.2], [-1, 0, 0])]],
    'actuators': [{'position': p, 'direction': d, 'actuator': {'bandwidth': 40}} for p, d in [
        ([0.6, 0.4, -0.4], [0, 0, 1]), ([-0.6, 0.4, -0.4], [0, 0, 1]), ([0.6, -0.4, -0.4], [0, 0, 1]), ([-0.6, -0.4, -0.4], [0, 0, 1]),
        ([0.6, 0, -0.4], [0, 1, 0]), ([-0.6, 0, -0.4], [0, 1, 0]), ([0, 0.4, -0.4], [1, 0, 0])]],
    'loops': [{'axis': 'X', 'gain': 6000}, {'axis': 'Z', 'gain': 9000}, {'axis': 'Ry', 'gain': 1500}],
    'delay': 0.001953125,
}
CASES = [
    ('box with gravity', {'payload': BOX}, [0.2, 1.4, 3, 20]),
    ('box without gravity, another reference', {'payload': {**BOX, 'gravity': 0}, 'reference': [0.3, -0.2, 0.7]}, [0.2, 1.8, 9]),
    ('skew, relaxing, inclined, every foot by itself', {'payload': SKEW, 'reference': [0.25, 0.5, -0.125], 'feet': 'independent'}, [0.3, 1.7, 2.6, 12]),
    ('two-chamber air springs on three valves', {'payload': TABLE, 'levelling': {'flowGain': 0.0078125}}, [0.02, 0.3, 1.5, 10]),
    ('damped through tilting sensors', {'payload': BOX, 'damping': DAMPED}, [0.05, 0.4, 1.5, 8]),
    ('held by position loops on top', {'payload': BOX, 'damping': {**DAMPED, 'loops': [
        {'axis': 'X', 'gain': 6000, 'position': {'stiffness': 5000, 'integralRate': 0.5}},
        {'axis': 'Ry', 'gain': 1500, 'position': {'stiffness': 8000, 'integralRate': 0.25}}]}}, [0.05, 0.4, 1.5, 8]),
]


def main():
    cases = []
    for name, options, frequencies in CASES:
        expected = [{key: numbers(X) for key, X in responses(options, f).items()} for f in frequencies]
        cases.append({'name': name, 'options': options, 'frequencies': frequencies, 'expected': expected})
    print(json.dumps({'source': __doc__, 'cases': cases}, indent=None, separators=(',', ':')))


main()
