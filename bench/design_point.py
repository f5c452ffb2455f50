"""One design point the way a researcher would script it with NumPy and SciPy: an actively damped mount with geophone,
lag of the actuator and second-order Pade form of the delay; closed loop, transmissibility, margins, stability, payload rms."""
import numpy as np
import scipy.signal as ss


def series(first, second):
    A1, B1, C1, D1 = first
    A2, B2, C2, D2 = second
    A = np.block([[A1, np.zeros((A1.shape[0], A2.shape[0]))], [B2 @ C1, A2]])
    return A, np.vstack([B1, B2 @ D1]), np.hstack([D2 @ C1, C2]), D2 @ D1


def design_point(f, size):
    m, k, c, g, tau = (size[key] for key in ("mass", "stiffness", "damping", "gain", "delay"))
    w = 2 * np.pi * f
    w0, wa, ratio = 2 * np.pi * 0.4, 2 * np.pi * 200, 0.7
    sensor = ss.tf2ss([1, 0, 0], [1, 2 * ratio * w0, w0**2])
    actuator = ss.tf2ss([wa], [1, wa])
    late = ss.tf2ss([tau**2 / 12, -tau / 2, 1], [tau**2 / 12, tau / 2, 1])
    plant = (np.array([[0, 1], [-k / m, -c / m]]), np.array([[0], [1 / m]]), np.array([[0, 1.0]]), np.zeros((1, 1)))
    AL, BL, CL, DL = series(plant, series(series(sensor, actuator), late))
    CL, DL = g * CL, g * DL
    n = AL.shape[0]
    # Closed, from the velocity of the floor: the rate of the stretch is v - vf.
    Acl = AL - BL @ CL
    Bcl = np.zeros((n, 1))
    Bcl[0], Bcl[1] = -1, c / m
    C = np.zeros((1, n))
    C[0, 1] = 1
    identity = np.eye(n)

    def response(A, B, C):
        M = 1j * w[:, None, None] * identity - A
        return (C @ np.linalg.solve(M, np.broadcast_to(B.astype(complex), (len(w), n, 1))))[:, 0, 0]

    T = response(Acl, Bcl, C)
    L = response(AL, BL, CL) + DL[0, 0]
    crossings = np.where(np.diff(np.sign(np.log(abs(L)))))[0]
    phase_margins = np.degrees(np.angle(-L[crossings]))
    stable = bool(np.max(np.linalg.eigvals(Acl).real) < 0)
    rms = np.sqrt(np.trapz(abs(T) ** 2 * 1e-12, f))
    return dict(peak=float(abs(T).max()), modulusMargin=float(np.min(abs(1 + L))), crossover=f[crossings].tolist(),
                phaseMargins=phase_margins.tolist(), stable=stable, rms=float(rms))
