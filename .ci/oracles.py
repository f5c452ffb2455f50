"""Reruns the generator of every reference file and compares what it computes with what is committed.

Run by .ci/oracles, which finds a Python with NumPy, SciPy, mpmath and SymPy; with names of generators only those. A number
agrees within 1e-9 of its value plus 1e-12 of the largest number in the same list: sums in double precision differ by that much
between versions of SciPy, and what cancels to zero is rounding; a coherence, the ratio of such sums, agrees within 1e-8. A motion
with a bound on a rate, which a stiff integrator follows with other steps on another processor, agrees within 1e-6 of the largest
number, which is what test/reference/limits.test.ts makes of it. Texts, counts and null must be equal; only `source`, which names
versions, may differ.
"""
import concurrent.futures
import json
import pathlib
import subprocess
import sys
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent / 'test' / 'reference'
RELATIVE, OF_LARGEST, OF_COHERENCE, OF_BOUND_RATE = 1e-9, 1e-12, 1e-8, 1e-6
# Longest first, two at a time.
ORACLES = [
    ('systems.py', 'systems-twins.json'),
    ('systems.py check', None),
    ('margins.py', 'margins.json'),
    ('concepts.py', 'concepts.json'),
    ('limits.py', 'limits.json'),
    ('six_axis.py', 'six-axis.json'),
    ('six_axis_stack.py', 'six-axis-stack.json'),
    ('records.py', 'records.json'),
    ('welch.py', 'welch.json'),
    ('discrete_margins.py', 'discrete-margins.json'),
    ('discretize.py', 'discretize.json'),
    ('ill_conditioned_responses.py', 'ill-conditioned-responses.json'),
    ('spectral_cases.py', 'spectral-cases.json'),
]


def numbers(value):
    """All numbers below a value."""
    if isinstance(value, dict):
        value = list(value.values())
    if isinstance(value, list):
        return [number for entry in value for number in numbers(entry)]
    return [] if isinstance(value, (bool, str)) or value is None else [abs(value)]


def departures(expected, found, path='', largest=0.0, share=OF_LARGEST):
    """Where two results are not the same, as lines of text; counts what was compared."""
    if isinstance(expected, dict) and isinstance(found, dict):
        keys = [key for key in expected if key in found]
        missing = sorted(set(expected) ^ set(found))
        lines = [f'{path}: only one has {key}' for key in missing]
        share = OF_BOUND_RATE if 'rate' in expected else share
        return lines + [line for key in keys if key != 'source'
                        for line in departures(expected[key], found[key], f'{path}.{key}',
                                               OF_COHERENCE / OF_LARGEST if key == 'coherence' else 0.0, share)]
    if isinstance(expected, list) and isinstance(found, list):
        if len(expected) != len(found):
            return [f'{path}: {len(expected)} entries, found {len(found)}']
        most = max([largest, *numbers(expected)], default=0.0) if not any(isinstance(x, dict) for x in expected) else 0.0
        return [line for k, (a, b) in enumerate(zip(expected, found)) for line in departures(a, b, f'{path}[{k}]', most, share)]
    if isinstance(expected, float) or isinstance(found, float):
        if isinstance(expected, (int, float)) and isinstance(found, (int, float)):
            if expected == found or abs(expected - found) <= RELATIVE * abs(expected) + share * largest:
                return []
    elif expected == found and type(expected) is type(found):
        return []
    return [f'{path}: {expected!r}, found {found!r}']


def run(oracle):
    command, name = oracle
    script, *arguments = command.split()
    start = time.monotonic()
    done = subprocess.run([sys.executable, str(ROOT / 'generators' / script), *arguments], capture_output=True, text=True)
    seconds = time.monotonic() - start
    if done.returncode != 0 or (name is not None and not (ROOT / 'data' / name).exists()):
        return command, [done.stderr.strip().split('\n')[-1] or f'no {name} to compare with'], 0, seconds
    if name is None:
        # lines of a name and the largest relative difference
        rows = [line.rsplit(' ', 1) for line in done.stdout.strip().split('\n')]
        bad = [' '.join(row) for row in rows if not float(row[-1]) <= 1e-9]
        return command, bad or ([] if rows else ['printed nothing']), len(rows), seconds
    expected = json.loads((ROOT / 'data' / name).read_text())
    return command, departures(expected, json.loads(done.stdout)), len(numbers(expected)), seconds


def main():
    known = {command.split()[0] for command, _ in ORACLES}
    strange = sorted(path.name for path in (ROOT / 'generators').glob('*.py') if path.name not in known)
    unproven = sorted({path.name for path in (ROOT / 'data').iterdir()} - {name for _, name in ORACLES} - {'systems.json'})
    failed = [f'{name}: not in the list of .ci/oracles.py' for name in strange + unproven]
    wanted = [oracle for oracle in ORACLES if not sys.argv[1:] or oracle[0].split()[0] in sys.argv[1:]]
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        for done in concurrent.futures.as_completed([pool.submit(run, oracle) for oracle in wanted]):
            command, lines, count, seconds = done.result()
            print(f'{command}: {count} numbers, {"the same" if not lines else "DIFFERENT"}, {seconds:.0f} s', flush=True)
            for line in lines[:5]:
                print(f'  {line}')
            if lines:
                failed.append(f'{command}: {len(lines)} differences')
    if failed:
        sys.exit('oracles: ' + '; '.join(failed))


main()
