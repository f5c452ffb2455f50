"""Writes models.json: modal models of 6 to 60 states behind a full change of coordinates. Run once; the file is kept."""
import json
import os

import numpy as np

rng = np.random.default_rng(1)


def model(modes, inputs, outputs):
    n = 2 * modes
    omega = 2 * np.pi * np.logspace(-0.3, 2.5, modes)
    ratio = rng.uniform(0.002, 0.2, modes)
    A = np.zeros((n, n))
    for i in range(modes):
        A[2 * i, 2 * i + 1] = 1
        A[2 * i + 1, 2 * i] = -omega[i] ** 2
        A[2 * i + 1, 2 * i + 1] = -2 * ratio[i] * omega[i]
    T = np.linalg.qr(rng.standard_normal((n, n)))[0] * np.logspace(-1, 1, n)
    inverse = np.linalg.inv(T)
    A = T @ A @ inverse
    B = T @ rng.standard_normal((n, inputs))
    C = rng.standard_normal((outputs, n)) @ inverse
    return dict(A=A.tolist(), B=B.tolist(), C=C.tolist(), D=np.zeros((outputs, inputs)).tolist())


models = {"siso6": model(3, 1, 1), "siso12": model(6, 1, 1), "mimo24": model(12, 3, 3), "mimo60": model(30, 6, 6)}
with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "models.json"), "w") as file:
    json.dump(models, file)
