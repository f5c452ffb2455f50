"""Adds to models.json the chain of 30 masses of test/reference/data/systems.json (case O11) as a 60-state model, first
order in displacements and velocities, which is the form a script would have."""
import json
import os

HERE = os.path.dirname(os.path.abspath(__file__))
with open(os.path.join(HERE, "../test/reference/data/systems.json")) as file:
    case = next(one for one in json.load(file) if one["id"].startswith("O11"))["input"]
n = len(case["mass"])


def laplacian(links):
    matrix = [[0.0] * n for _ in range(n)]
    for p, q, value in links:
        for a, b in ((p, q), (q, p)):
            if a < 0:
                continue
            matrix[a][a] += value
            if b >= 0:
                matrix[a][b] -= value
    return matrix


K, damping, mass = laplacian(case["springs"]), laplacian(case["dampers"]), case["mass"]
zero = [0.0] * n
upper = [zero + [1.0 if j == i else 0.0 for j in range(n)] for i in range(n)]
lower = [[-k / mass[i] for k in K[i]] + [-c / mass[i] for c in damping[i]] for i in range(n)]
A = upper + lower
B = [[0.0] * 6 for _ in range(n)] + [[1 / mass[i] if i == p else 0.0 for p in case["inputs"]] for i in range(n)]
C, D = [], []
for kind, place in case["outputs"]:
    C.append([1.0 if j == place else 0.0 for j in range(2 * n)] if kind == "x" else A[n + place])
    D.append([0.0] * 6 if kind == "x" else B[n + place])
with open(os.path.join(HERE, "models.json")) as file:
    models = json.load(file)
models["chain60"] = dict(A=A, B=B, C=C, D=D)
with open(os.path.join(HERE, "models.json"), "w") as file:
    json.dump(models, file)
