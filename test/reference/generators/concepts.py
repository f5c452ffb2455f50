"""Responses, loops and margins of every isolation concept, in 40 digits.

Run: python3 test/reference/generators/concepts.py > out.json && mv out.json test/reference/data/concepts.json
The options and frequencies stand in the data file itself and are taken as exact doubles; this program renews the expected
values. Each storey is written as the balance of forces on its bodies and on the body beneath, in displacements; the chain is
solved by elimination. A loop is det(closed)/det(controllers at zero) - 1, the number of unstable poles the winding of that
ratio about zero. No state space and no code of the package take part.
"""
import cmath
import json
import pathlib

from mpmath import arg, degrees, exp, findroot, fabs, lu_solve, matrix, mp, mpc, mpf, pi

mp.dps = 40
DATA = pathlib.Path(__file__).parent.parent / 'data' / 'concepts.json'


class Exact:
    """Numbers of 40 digits."""
    number, exponential, pi = staticmethod(mpf), staticmethod(exp), pi


class Rough:
    """Doubles, to scan."""
    number, exponential, pi = staticmethod(float), staticmethod(cmath.exp), float(pi)


def spring(mount, count, s, of, levelling):
    """Force per compression K(s) of all mounts together."""
    n = of.number
    if 'airSpring' in mount:
        o = mount['airSpring']
        area = n(o['area'])
        gauge = n(o['gaugePressure']) if 'gaugePressure' in o else n(o['load']) / area
        stiff = n(o.get('polytropicExponent', 1.4)) * (gauge + n(o.get('ambientPressure', 101325)))
        volume = n(o['volume'])
        if 'dampingChamber' in o:
            tank = n(o['dampingChamber']['volume'])
            volume = volume + tank / (1 + s * n(o['dampingChamber']['flowResistance']) * tank / stiff)
        gas = stiff * area ** 2 / volume
        if levelling is not None:
            gas = gas * (1 + n(levelling['flowGain']) / area / s)
        rest = gauge * n(o.get('areaGradient', 0)) + n(o.get('diaphragmStiffness', 0)) + n(o.get('diaphragmDamping', 0)) * s
        return count * (gas + rest)
    value = n(mount['stiffness']) + n(mount.get('damping', 0)) * s
    for branch in mount.get('relaxations', []):
        value = value + n(branch['stiffness']) * n(branch['time']) * s / (1 + n(branch['time']) * s)
    return count * value


def sensor(options, s, of):
    if options is None:
        return of.number(1)
    w = 2 * of.pi * of.number(options['naturalFrequency'])
    return s ** 2 / (s ** 2 + 2 * of.number(options['dampingRatio']) * w * s + w ** 2)


def lag(options, s, of):
    if options is None:
        return of.number(1)
    w = 2 * of.pi * of.number(options['bandwidth'])
    return w / (s + w)


def late(options, s, of):
    return of.exponential(-s * of.number(options.get('delay', 0)))


def active_force(concept, o, s, of):
    """What a damped or parallel storey does: force on the payload per velocity, without its sign."""
    n = of.number
    if concept == 'activelyDamped':
        d = o['damping']
        if 'gain' in d:
            gain = n(d['gain'])
        else:
            root = (n(o.get('count', 1)) * n(o['mount']['stiffness']) * n(o['payload']['mass'])) ** n(0.5)
            gain = 2 * n(d['dampingRatio']) * root
    else:
        d = o['feedback']
        gain = n(d['velocityGain']) + s * n(d.get('accelerationGain', 0))
    return gain * lag(d.get('actuator'), s, of) * late(d, s, of) * sensor(d.get('sensor'), s, of)


def storeys(case):
    if case['concept'] == 'stacked':
        return [case['options']['lower'], case['options']['upper']]
    return [{**case['options'], 'concept': case['concept']}]


def balances(case, s, of, active=True):
    """A x = b u: displacements of the bodies, of the floor motion u and of a force on the last payload."""
    bodies = sum(2 if o['concept'] == 'seriesActive' else 1 for o in storeys(case))
    A = [[of.number(0)] * bodies for _ in range(bodies)]
    floor = [of.number(0)] * bodies

    def put(row, column, value):
        if row is None:
            return
        if column is None:
            floor[row] = floor[row] - value
        else:
            A[row][column] = A[row][column] + value

    base, free = None, 0
    for o in storeys(case):
        n, concept = of.number, o['concept']
        m, K = n(o['payload']['mass']), spring(o['mount'], o.get('count', 1), s, of, o.get('levelling'))
        under, payload = base, free
        if concept == 'seriesActive':
            stage, payload = free, free + 1
            a, c = o['activeStage'], o['activeStage']['controller']
            ka = n(a['actuator']['stiffness'])
            link = ka + n(a['actuator'].get('damping', 0)) * s
            wl, wh = 2 * of.pi * n(c['lowPass']), 2 * of.pi * n(c['highPass'])
            control = n(c['gain']) / (s + wh) * wl / (s + wl) * late(a, s, of) * sensor(a.get('sensor'), s, of) * s
            put(stage, stage, n(a['mass']) * s ** 2 + link)
            put(stage, base, -link)
            put(base, base, link)
            put(base, stage, -link)
            if active:
                sensed = stage if a['sensorLocation'] == 'activeStage' else base
                put(stage, sensed, ka * control)
                put(base, sensed, -ka * control)
            under = stage
        put(payload, payload, m * s ** 2 + K)
        put(payload, under, -K)
        put(under, under, K)
        put(under, payload, -K)
        if active and concept in ('activelyDamped', 'parallelActive'):
            force = active_force(concept, o, s, of) * s
            put(payload, payload, force)
            put(base, payload, -force)
        base, free = payload, payload + 1
    return A, floor


def determinant(A):
    A, value = [list(row) for row in A], 1
    for k in range(len(A)):
        pivot = max(range(k, len(A)), key=lambda i: abs(A[i][k]))
        if pivot != k:
            A[k], A[pivot] = A[pivot], A[k]
            value = -value
        value = value * A[k][k]
        for i in range(k + 1, len(A)):
            factor = A[i][k] / A[k][k]
            A[i] = [x - factor * y for x, y in zip(A[i], A[k])]
    return value


def returned(case, s, of):
    """1 + L."""
    return determinant(balances(case, s, of)[0]) / determinant(balances(case, s, of, active=False)[0])


def loop(case, w):
    return returned(case, mpc(0, w), Exact) - 1


def has_loop(case):
    o = case['options']
    return case['concept'] in ('activelyDamped', 'parallelActive') or (
        case['concept'] == 'seriesActive' and o['activeStage']['sensorLocation'] == 'activeStage')


def response(case, frequency):
    s = mpc(0, 2 * pi * mpf(frequency))
    A, floor = balances(case, s, Exact)
    size = len(A)
    T = lu_solve(matrix(A), matrix(floor))[size - 1]
    force = lu_solve(matrix(A), matrix([0] * (size - 1) + [1]))[size - 1]
    result = {'T': T}
    if case['concept'] != 'stacked':
        result['compliance'] = force
    if has_loop(case):
        result['L'] = returned(case, s, Exact) - 1
    forward = case['options'].get('feedforward')
    if forward is not None:
        residual = 1 - mpf(forward['gain']) * lag(forward.get('actuator'), s, Exact) * late(forward, s, Exact)
        result |= {'reactionResidual': residual, 'reactionCompliance': residual * force}
    return result


def scan(case):
    """1 + L in doubles from 1e-4 to 2e5 Hz."""
    points = [2 * float(pi) * 1e-4 * 2e9 ** (k / 60000) for k in range(60001)]
    return points, [returned(case, complex(0, w), Rough) for w in points]


def unstable_poles(values):
    turned = sum(cmath.phase(b / a) for a, b in zip(values, values[1:]))
    return round(-turned / float(pi))


def polished(function, low, high):
    return findroot(function, (mpf(low), mpf(high)), solver='anderson', tol=mpf(10) ** -30)


def margins(case):
    points, values = scan(case)
    gains, phases = [], []
    for a, b, u, v in zip(points, points[1:], values, values[1:]):
        x, y = u - 1, v - 1
        if (abs(x) - 1) * (abs(y) - 1) < 0:
            w = polished(lambda w: fabs(loop(case, w)) ** 2 - 1, a, b)
            gains.append([w / (2 * pi), degrees(arg(-loop(case, w)))])
        if x.imag * y.imag < 0 and x.real < 0 and y.real < 0 and abs(y) > 0.9e-3:
            w = polished(lambda w: loop(case, w).imag, a, b)
            if fabs(loop(case, w)) > mpf('1e-3'):
                phases.append([w / (2 * pi), 1 / fabs(loop(case, w))])
    least = min(range(len(points)), key=lambda k: abs(values[k]))
    low, high = (mpf(points[max(0, min(len(points) - 1, least + d))]) for d in (-1, 1))
    for _ in range(90):
        third = (high - low) / 3
        if fabs(1 + loop(case, low + third)) < fabs(1 + loop(case, high - third)):
            high -= third
        else:
            low += third
    return {
        'unstablePoles': unstable_poles(values),
        'modulusMargin': min(fabs(1 + loop(case, (low + high) / 2)), mpf(1)),
        'gainCrossovers': gains,
        'phaseCrossovers': phases,
    }


def plain(value):
    if isinstance(value, mpc):
        return [float(value.real), float(value.imag)]
    if isinstance(value, list):
        return [plain(entry) for entry in value]
    if isinstance(value, dict):
        return {key: plain(entry) for key, entry in value.items()}
    return value if isinstance(value, int) else float(value)


def renewed(case):
    result = {key: case[key] for key in ('id', 'concept', 'options', 'frequencies')}
    rows = [response(case, frequency) for frequency in case['frequencies']]
    result['expected'] = {key: plain([row[key] for row in rows]) for key in rows[0]}
    if has_loop(case):
        result['margins'] = plain(margins(case))
    if case['concept'] == 'stacked' and any(o['concept'] != 'passive' for o in storeys(case)):
        result['unstablePoles'] = unstable_poles(scan(case)[1])
    return result


if __name__ == '__main__':
    data = json.loads(DATA.read_text())
    head = {
        'source': 'computed with 40 digits (mpmath) from the force balances stated in the documentation of each concept',
        'units': 'frequency Hz; T and L without unit; compliance and reactionCompliance m/N; phase margins degrees',
        'tolerance': data['tolerance'],
        'generator': 'test/reference/generators/concepts.py',
    }
    print(json.dumps(head, indent=1)[:-2] + ',\n "cases": [\n  ', end='')
    print(',\n  '.join(json.dumps(renewed(case)) for case in data['cases']) + '\n ]\n}')
