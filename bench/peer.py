"""One side of the comparison: NumPy and SciPy. Reads tasks as lines of JSON, answers each with one line of JSON."""
import json
import os
import sys
import time
import warnings

import numpy as np
import scipy
import scipy.signal as ss

from design_point import design_point

warnings.simplefilter("ignore")
HERE = os.path.dirname(os.path.abspath(__file__))
with open(os.path.join(HERE, "models.json")) as file:
    models = {name: [np.array(model[key]) for key in "ABCD"] for name, model in json.load(file).items()}


def noise(count):
    values, x = np.empty(count), 1
    for k in range(count):
        x = 48271 * x % 2147483647
        values[k] = x / 2147483647 - 0.5
    return values


def batched(name, w):
    A, B, C, D = models[name]
    M = 1j * w[:, None, None] * np.eye(len(A)) - A
    return C @ np.linalg.solve(M, np.broadcast_to(B.astype(complex), (len(w),) + B.shape)) + D


def pairs(G):
    return np.stack([G.real, G.imag], -1).tolist()


def prepare(task, size):
    """The work as a function without arguments, and how to read its result off for the check."""
    if task == "response12":
        w = 2 * np.pi * np.array(size)
        return lambda: ss.freqresp(tuple(models["siso12"]), w)[1], lambda r: pairs(r[:, None, None])
    if task in ("response60", "chain60"):
        w = 2 * np.pi * np.array(size)
        return lambda: batched("mimo60" if task == "response60" else task, w), pairs
    if task == "simulate":
        u, t = noise(size["count"]), np.arange(size["count"]) * size["step"]
        return lambda: ss.lsim(tuple(models["siso12"]), u, t)[1], lambda y: y[:: size["every"]].tolist()
    if task == "welch":
        x = noise(size["count"])
        run = lambda: ss.welch(x, size["rate"], nperseg=size["length"])[1]
        return run, lambda S: S[size["lines"]].tolist()
    f = np.logspace(-1, 2, 400)
    return lambda: design_point(f, size), lambda r: r


for line in sys.stdin:
    order = json.loads(line)
    if order["task"] == "versions":
        print(json.dumps(f"NumPy {np.__version__}, SciPy {scipy.__version__}"), flush=True)
        continue
    run, read = prepare(order["task"], order["size"])
    times = []
    for _ in range(order["repeats"]):
        busy = time.process_time()
        result = run()
        times.append(1e3 * (time.process_time() - busy))
    print(json.dumps(dict(times=times, value=read(result) if order["read"] else None)), flush=True)
