"""Makes standing.csv: the wall of a hose beside a long hot pipe, heat going through it and round it, solved on a grid.

An independent solution of what `checks::heat` works out without heat going round: finite volumes over half of the ring
(8 layers, 60 pieces), Newton's method with numpy. View of a piece of skin: the angle over which it sees the pipe, clipped
at its horizon. Air: air_properties.csv (CoolProp) interpolated; film: Churchill and Chu. Standing: the coolant is one
temperature (it mixes by itself), and as much heat goes into it as comes out.

Run: python3 -m venv v && v/bin/pip install numpy && v/bin/python standing.py > standing.csv
"""
import csv, math, os
import numpy as np

SIGMA, K0 = 5.670374419e-8, 273.15
RI, RO, K, E1, E2, BAY, RP = 8e-3, 12e-3, 0.25, 0.80, 0.92, 90.0, 25e-3
NR, NT = 8, 60

here = os.path.dirname(os.path.abspath(__file__))
air = np.array([[float(r[k]) for k in ("T_C", "nu_mm2_s", "alpha_mm2_s", "k", "Pr")]
                for r in csv.DictReader(l for l in open(os.path.join(here, "air_properties.csv")) if l[0] != "#")])


def film(ts, ta, d):
    tf = 0.5 * (ts + ta)
    nu, al, k, pr = (np.interp(tf, air[:, 0], air[:, c]) for c in (1, 2, 3, 4))
    ra = 9.80665 / (tf + K0) * abs(ts - ta) * d**3 / (nu * al * 1e-12)
    return (0.60 + 0.387 * ra ** (1 / 6) / (1 + (0.559 / pr) ** (9 / 16)) ** (8 / 27)) ** 2 * k / d


def ring(hot, gap, inner, coolant):
    """Peak of the skin and the coolant; `coolant` None: standing still."""
    thick = 2 * np.interp(0.5 * (hot + BAY), air[:, 0], air[:, 3]) / film(hot, BAY, 2 * RP)
    dt = math.pi / NT
    turn = (np.arange(NT) + 0.5) * dt
    x, y = RP + gap + RO * (1 - np.cos(turn)), RO * np.sin(turn)
    rho = np.hypot(x, y)
    # The pipe is seen between these two angles off the normal, as far as they are above the horizon.
    middle, half = turn + np.arctan2(y, x), np.arcsin(RP / rho)
    a, b = np.clip(middle - half, -math.pi / 2, math.pi / 2), np.clip(middle + half, -math.pi / 2, math.pi / 2)
    part = 0.5 * (np.sin(b) - np.sin(a))
    s = rho - RP
    at = np.where(s < thick, BAY + (hot - BAY) * np.clip(1 - s / thick, 0, 1) ** 2, BAY)

    def into(ts):
        q = part / (1 / E1 + 1 / E2 - 1) * SIGMA * ((hot + K0) ** 4 - (ts + K0) ** 4)
        q = q + (1 - part) * E2 * SIGMA * ((BAY + K0) ** 4 - (ts + K0) ** 4)
        return q + np.array([film(t, u, 2 * RO) * (u - t) for t, u in zip(ts, at)])

    edge = np.linspace(RI, RO, NR + 1)
    mid = 0.5 * (edge[1:] + edge[:-1])
    n = NR * NT
    idx = lambda i, j: i * NT + j
    A = np.zeros((n + 1, n + 1))
    for i in range(NR):
        for j in range(NT):
            p = idx(i, j)
            for ii in (i - 1, i + 1):
                if 0 <= ii < NR:
                    g = K * edge[max(i, ii)] * dt / (mid[max(i, ii)] - mid[min(i, ii)])
                    A[p, p] -= g
                    A[p, idx(ii, j)] += g
            for jj in (j - 1, j + 1):
                if 0 <= jj < NT:
                    g = K * (edge[i + 1] - edge[i]) / (mid[i] * dt)
                    A[p, p] -= g
                    A[p, idx(i, jj)] += g
    # Bore: half a cell of wall and the film.
    g_in = dt / (math.log(mid[0] / RI) / K + 1 / (RI * inner))
    for j in range(NT):
        p = idx(0, j)
        A[p, p] -= g_in
        A[p, n] += g_in
        A[n, p] += g_in
        A[n, n] -= g_in
    half_wall = RO * math.log(RO / mid[-1]) / K
    T = np.full(n + 1, 100.0)
    if coolant is not None:
        T[n] = coolant

    skin = np.full(NT, 100.0)
    for _ in range(60):
        # Skin above the outermost cell, for its heat: into(skin) = (skin - cell) / half_wall.
        cell = T[idx(NR - 1, 0): idx(NR - 1, NT - 1) + 1]
        for _ in range(60):
            f = into(skin) - (skin - cell) / half_wall
            slope = (into(skin + 1e-3) - into(skin)) / 1e-3 - 1 / half_wall
            step = f / slope
            skin = skin - step
            if np.max(np.abs(step)) < 1e-9:
                break
        q = into(skin)
        slope = (into(skin + 1e-3) - q) / 1e-3
        # d q / d cell through the skin.
        dq = slope * (1 / half_wall) / (1 / half_wall - slope)
        R = A @ T
        J = A.copy()
        for j in range(NT):
            p = idx(NR - 1, j)
            R[p] += q[j] * RO * dt
            J[p, p] += dq[j] * RO * dt
        if coolant is not None:
            R[n] = 0
            J[n, :] = 0
            J[n, n] = 1
        d = np.linalg.solve(J, -R)
        T = T + d
        if np.max(np.abs(d)) < 1e-8:
            break
    return float(skin.max()), float(T[n])


print("# A 16/24 mm hose beside a long pipe of 50 mm, on a grid with heat going round the wall; made by standing.py.")
print("T_pipe_C,gap_mm,T_peak_flowing_C,T_coolant_standing_C,T_peak_standing_C")
for hot in (300.0, 450.0, 600.0):
    for gap in (10.0, 30.0, 100.0):
        flowing, _ = ring(hot, gap * 1e-3, 3000.0, 95.0)
        peak, still = ring(hot, gap * 1e-3, 200.0, None)
        print(f"{hot:.0f},{gap:.0f},{flowing:.2f},{still:.2f},{peak:.2f}")
