"""Makes contact_lies.json: hoses that rest against solids, by shooting with the contacts among the unknowns.

1. A start by minimisation: 59 free unit tangents, trapezoid energy, one-sided springs at the nodes, the closing condition by
   multipliers, scipy's L-BFGS. It only says which solids the hose touches and roughly where and how hard.
2. The answer by shooting: the rod's equations (lengths by L, forces by L^2/EI)
       r' = t,   t' = m x t,   m' = -t x n,   n' = -w
   by DOP853 at rtol 1e-12 from A to B, with n falling by F o at each contact (o the way out of the solid). Unknown are the
   moment and the force at A and of each contact its place s and its force F; asked are the place and the tangent at B and at
   each contact d(r) = radius of the hose and o.t = 0. No spring and no mesh is left in it.
3. Touchdown: a heavy hose that lies flat on a block in its middle. By symmetry half of it: unknown m, n at A and the length a
   until it lies flat, asked r_z, t_z and m there and the chord.
A contact must push (F > 0), and the hose must be clear of all solids elsewhere; both are checked here.
Inputs are invented. Run: python3 contact_shooting.py > contact_lies.json (all cases) or with the names of some cases.
"""

import json
import sys

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.optimize import minimize, root

LENGTH, STIFFNESS = 400.0, 56_000.0


def distance(solid, r):
    """Signed distance from the surface and the way out, of one place or a list of them."""
    if solid["kind"] == "block":
        low, high = np.array(solid["low"]), np.array(solid["high"])
        arm = np.maximum(r - high, 0) - np.maximum(low - r, 0)
        # No case has its centre line in a block at rest; on the way there the nearest face will do.
        over = np.concatenate([low - r, r - high], axis=-1)
        k = over.argmax(axis=-1)
        inside = over.max(axis=-1)
        ways = np.concatenate([-np.eye(3), np.eye(3)])[k]
        far = np.linalg.norm(arm, axis=-1)
        out = np.where((far > 0)[..., None], arm / np.maximum(far, 1e-300)[..., None], ways)
        return np.where(far > 0, far, inside), out
    if solid["kind"] == "ball":
        arm = r - np.array(solid["centre"])
    else:
        a, b = np.array(solid["a"]), np.array(solid["b"])
        part = np.clip((r - a) @ (b - a) / ((b - a) @ (b - a)), 0, 1)
        arm = r - a - part[..., None] * (b - a)
    far = np.linalg.norm(arm, axis=-1)
    return far - solid["radius"], arm / far[..., None]


def start(case, n=60, spring=3e5):
    """Tangents at rest between springs, and the force at B."""
    c, ta, tb, w = (np.array(case[k], float) for k in ("c", "ta", "tb", "w"))
    h = 1.0 / n
    q = np.full((n + 1, 1), h)
    q[0] = q[-1] = h / 2
    levels = (1 - np.arange(n + 1) * h)[:, None]
    force = np.zeros(3)

    def tangents(x):
        v = x.reshape(-1, 3)
        size = np.linalg.norm(v, axis=1)[:, None]
        return np.vstack([ta, v / size, tb]), size

    def potential(x, force):
        t, size = tangents(x)
        step = np.diff(t, axis=0)
        energy = (step**2).sum() / (2 * h) - (q * levels * (t @ w)[:, None]).sum()
        g = np.zeros_like(t)
        g[1:] += step / h
        g[:-1] -= step / h
        g -= q * levels * w
        r = np.vstack([np.zeros(3), np.cumsum((t[1:] + t[:-1]) * h / 2, axis=0)])
        pushes = np.zeros_like(r)
        for solid in case["solids"]:
            d, out = distance(solid, r[1:-1])
            depth = np.maximum(case["radius"] - d, 0)
            energy += 0.5 * spring * h * (depth**2).sum()
            pushes[1:-1] -= spring * h * depth[:, None] * out
        beyond = np.cumsum(pushes[::-1], axis=0)[::-1]
        g[:-1] += beyond[1:] * h / 2
        g[1:] += beyond[1:] * h / 2
        gap = r[-1] - c
        hold = 2e3
        energy += 0.5 * hold * gap @ gap - force @ gap
        g += q * (hold * gap - force)
        inner = g[1:-1]
        inner = (inner - (inner * t[1:-1]).sum(1)[:, None] * t[1:-1]) / size
        return energy, inner.ravel(), gap, -pushes, t, r

    u = np.linspace(0, 1, n + 1)[1:-1, None]
    m = case.get("tangent", 0.7)
    x = 6 * u * (1 - u) * c + m * ta * (1 - 4 * u + 3 * u**2) + m * tb * (3 * u**2 - 2 * u)
    x = x + np.array(case.get("bow", [0, 0, 0])) * 32 * u * (1 - u) * (1 - 2 * u)
    x = (x / np.linalg.norm(x, axis=1)[:, None]).ravel()
    for _ in range(12):
        x = minimize(lambda x: potential(x, force)[:2], x, jac=True, method="L-BFGS-B", options=dict(maxiter=1500, maxfun=2000, ftol=1e-15, gtol=1e-7)).x
        gap = potential(x, force)[2]
        force = force - 2e3 * gap
        if np.linalg.norm(gap) < 1e-7:
            break
    _, _, gap, pushes, t, r = potential(x, force)
    return t, r, force, pushes, h


def frame(t):
    other = np.eye(3)[np.argmin(np.abs(t))]
    u = np.cross(t, other)
    u /= np.linalg.norm(u)
    return u, np.cross(t, u)


def integrate(y, n, w, s0, s1, dense=None):
    def slope(s, y):
        t, m = y[3:6], y[6:9]
        bend = np.cross(m, t)
        return np.concatenate([t, bend, -np.cross(t, n - w * (s - s0)), [0.5 * bend @ bend]])

    return solve_ivp(slope, (s0, s1), y, "DOP853", dense, rtol=1e-12, atol=1e-12)


def whole(case, x, contacts, stations=None):
    """Integrates from A to B; returns the state at B, what is asked at the contacts, and the states at the stations."""
    ta, w = np.array(case["ta"], float), np.array(case["w"], float)
    u, v = frame(ta)
    y = np.concatenate([np.zeros(3), ta, x[0] * u + x[1] * v, [0.0]])
    n, s, asked, seen, forces = np.array(x[2:5]), 0.0, [], [], []
    for k, solid in enumerate(list(contacts) + [None]):
        end = 1.0 if solid is None else x[5 + 2 * k]
        if stations is not None:
            inside = stations[(stations >= s) & (stations < end)]
            points = np.append(inside, end)
            track = integrate(y, n, w, s, end, points).y
            seen.append(track[:, : len(inside)])
            y = track[:, -1]
        else:
            y = integrate(y, n, w, s, end).y[:, -1]
        n, s = n - w * (end - s), end
        if solid is not None:
            d, out = distance(case["solids"][solid], y[:3])
            asked += [d - case["radius"], out @ y[3:6]]
            forces.append(out * x[6 + 2 * k])
            n = n - forces[-1]
    if stations is not None:
        seen.append(y[:, None])
    return y, n, asked, seen, forces


def solve(case):
    t, r, force, pushes, h = start(case)
    c, ta, tb, w = (np.array(case[k], float) for k in ("c", "ta", "tb", "w"))
    # Runs of nodes that press on one solid are one contact.
    contacts, guess = [], []
    for k, solid in enumerate(case["solids"]):
        hits = [i for i in range(1, len(r) - 1) if case["radius"] > distance(solid, r[i])[0]]
        runs = np.split(hits, np.where(np.diff(hits) > 2)[0] + 1) if hits else []
        for run in runs:
            sizes = np.linalg.norm(pushes[run], axis=1) if len(case["solids"]) == 1 else np.array(
                [max(case["radius"] - distance(solid, r[i])[0], 0) * 3e5 * h for i in run]
            )
            guess.append((float((run * sizes).sum() / sizes.sum()) * h, float(sizes.sum()), k))
    guess.sort()
    contacts = [k for _, _, k in guess]
    n0 = force + w + pushes.sum(0)
    u, v = frame(ta)
    m0 = np.cross(t[0], (-3 * t[0] + 4 * t[1] - t[2]) / (2 * h))
    x = [m0 @ u, m0 @ v, *n0] + [z for s, f, _ in guess for z in (s, f)]
    across = np.array(frame(tb))

    def miss(x):
        y, _, asked, _, _ = whole(case, x, contacts)
        return np.concatenate([y[:3] - c, across @ (y[3:6] - tb), asked])

    best = None
    for method in ("hybr", "lm"):
        try:
            found = root(miss, x, method=method, tol=1e-13)
        except ValueError:
            continue
        if best is None or np.abs(found.fun).max() < np.abs(best.fun).max():
            best = found
    x = best.x
    error = float(np.abs(best.fun).max())
    fine = np.linspace(0, 1, 2401)
    y, n_b, _, seen, forces = whole(case, x, contacts, fine)
    track = np.concatenate(seen, axis=1)
    clear = min((distance(solid, track[:3].T)[0] - case["radius"]).min() for solid in case["solids"])
    ok = error < 1e-9 and all(x[6 + 2 * k] > 0 for k in range(len(contacts))) and clear > -1e-7
    ok = ok and y[3:6] @ tb > 0.9
    return dict(x=x, contacts=contacts, track=track, forces=forces, n_b=n_b, error=error, ok=bool(ok), clear=float(clear),
                start_off=float(np.abs(track[:3, :: 2400 // (len(r) - 1)][:, : len(r)].T - r).max()))


def told(case, answer):
    x, track, contacts = answer["x"], answer["track"], answer["contacts"]
    w = np.array(case["w"], float)
    force, moment = STIFFNESS / LENGTH**2, STIFFNESS / LENGTH
    curvature = np.linalg.norm(np.cross(track[6:9].T, track[3:6].T), axis=1)
    u, v = frame(np.array(case["ta"], float))
    return dict(
        id=case["id"],
        what=case["what"],
        input=dict(
            B_mm=(np.array(case["c"]) * LENGTH).tolist(), tangent_A=case["ta"], tangent_B=case["tb"], length_mm=LENGTH,
            EI_Nmm2=STIFFNESS, weight_N_per_mm=(w * STIFFNESS / LENGTH**3).tolist(), hose_radius_mm=case["radius"] * LENGTH,
            solids=[{k: (z if k == "kind" else (np.array(z) * LENGTH).tolist()) for k, z in solid.items()} for solid in case["solids"]],
        ),
        output=dict(
            centreline_mm=(track[:3, ::120].T * LENGTH).tolist(),
            peak_curvature_per_mm=float(curvature.max()) / LENGTH,
            bending_energy_Nmm=float(track[9, -1]) * moment,
            force_on_hose_at_A_N=(-np.array(x[2:5]) * force).tolist(),
            force_on_hose_at_B_N=(answer["n_b"] * force).tolist(),
            moment_on_hose_at_A_Nmm=(-(x[0] * u + x[1] * v) * moment).tolist(),
            moment_on_hose_at_B_Nmm=(track[6:9, -1] * moment).tolist(),
            contacts=[
                dict(solid=k, at_mm=float(x[5 + 2 * i]) * LENGTH, force_N=(answer["forces"][i] * force).tolist())
                for i, k in enumerate(contacts)
            ],
            error=answer["error"], clear_by=answer["clear"], start_off=answer["start_off"],
        ),
    )


def unit(v):
    return (np.array(v, float) / np.linalg.norm(v)).tolist()


X, Y, Z = [1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]
CASES = [
    dict(id="K02", what="a ball from below, no weight", c=[0.8, 0.1, 0.05], ta=unit([1, 0, 0.6]), tb=unit([1, 0.2, -0.5]), w=[0, 0, 0], radius=0.03,
         solids=[dict(kind="ball", centre=[0.4, 0.05, 0.22], radius=0.1)]),
    dict(id="K03", what="over an edge of a block, heavy", c=[0.75, 0.1, 0.1], ta=X, tb=unit([1, 0.3, 0.2]), w=[0, 0, -30.0], radius=0.025,
         solids=[dict(kind="block", low=[0.35, -0.5, -0.6], high=[1.5, 0.5, -0.12])]),
    dict(id="K04", what="a corner of a block", c=[0.6, 0.3, 0.1], ta=X, tb=Y, w=[0, 0, -5.0], bow=[0, -0.1, 0], radius=0.03,
         solids=[dict(kind="block", low=[0.1, -0.062, -0.5], high=[0.54, 0.6, 0.015])]),
    dict(id="K05", what="sagging on a face of a block", c=[0.8, 0.05, 0.0], ta=unit([1, 0, -0.5]), tb=unit([1, 0.1, 0.5]), w=[0, 0, -10.0], radius=0.03,
         solids=[dict(kind="block", low=[-2, -2, -2], high=[2, 2, -0.17])]),
    dict(id="K06", what="between two pipes", c=[0.85, 0.0, 0.1], ta=X, tb=unit([1, 0.2, 0]), w=[0, 0, -4.0], bow=[0, -0.1, 0], radius=0.03,
         solids=[dict(kind="capsule", a=[0.3, -0.5, -0.1], b=[0.3, 0.5, -0.1], radius=0.05),
                 dict(kind="capsule", a=[0.72, -0.5, 0.12], b=[0.72, 0.5, 0.15], radius=0.04)]),
    dict(id="K07", what="the round end of a rod", c=[0.7, 0.2, 0.0], ta=unit([1, -0.3, 0.2]), tb=unit([0.5, 1, -0.1]), w=[0, 0, -3.0], radius=0.03,
         solids=[dict(kind="capsule", a=[0.35, -0.6, 0.05], b=[0.4, -0.12, 0.05], radius=0.04)]),
    dict(id="K08", what="a ball, a pipe and a block", c=[0.7, 0.3, 0.1], ta=unit([1, 0, 0.3]), tb=unit([0.2, 1, 0.2]), w=[0, 0, -12.0], bow=[0, -0.1, 0], radius=0.025,
         solids=[dict(kind="ball", centre=[0.25, -0.05, -0.05], radius=0.05),
                 dict(kind="capsule", a=[0.53, -0.03, 0.5], b=[0.53, -0.01, -0.5], radius=0.03),
                 dict(kind="block", low=[0.6, 0.1, -0.6], high=[0.9, 0.2, 0.045])]),
    dict(id="K09", what="pressed hard across a pipe", c=[0.9, 0.0, 0.0], ta=unit([1, 0, -0.1]), tb=unit([1, 0.1, 0.1]), w=[0, 0, -1.0], radius=0.03,
         solids=[dict(kind="capsule", a=[0.45, -0.4, -0.2], b=[0.45, 0.5, -0.2], radius=0.04)]),
]


def touchdown():
    """The heavy hose that lies flat on a block; half of it, in the plane x, z."""
    height, w, radius, chord = 0.15, 400.0, 0.025, 0.92

    def half(x, dense=None):
        m0, nx, nz, a = x
        y = np.array([0, 0, 0, 1, 0, 0, 0, m0, 0, 0.0])
        return integrate(y, np.array([nx, 0, nz]), np.array([0, 0, -w]), 0.0, a, dense)

    def miss(x):
        y = half(x).y[:, -1]
        return [y[2] + height, y[5], y[7], y[0] + (0.5 - x[3]) - chord / 2]

    small = (72 * height / w) ** 0.25
    found = root(miss, [w * small**2 / 6, 0.0, -w * small * 2 / 3, small], tol=1e-13)
    m0, nx, nz, a = found.x
    fine = np.linspace(0, 0.5, 1201)
    rising = half(found.x, np.append(fine[fine < a], a)).y
    flat = fine[fine >= a]
    lying = np.zeros((10, len(flat)))
    lying[0] = rising[0, -1] + flat - a
    lying[2], lying[3], lying[9] = -height, 1.0, rising[9, -1]
    track = np.concatenate([rising[:, :-1], lying], axis=1)
    back = track[:, -2::-1].copy()
    back[0] = chord - back[0]
    back[5] = -back[5]
    line = np.concatenate([track[:3], back[:3]], axis=1)
    force, moment = STIFFNESS / LENGTH**2, STIFFNESS / LENGTH
    curvature = np.linalg.norm(np.cross(track[6:9].T, track[3:6].T), axis=1)
    block = dict(kind="block", low=[-800.0, -800.0, -800.0], high=[1200.0, 800.0, -(height + radius) * LENGTH])
    # Up on the hose: at A, at B, and the rest of its weight by the block.
    up = -nz
    return dict(
        id="K10", what="a heavy hose lies flat on a block in its middle",
        input=dict(B_mm=[chord * LENGTH, 0.0, 0.0], tangent_A=X, tangent_B=X, length_mm=LENGTH, EI_Nmm2=STIFFNESS,
                   weight_N_per_mm=[0.0, 0.0, -w * STIFFNESS / LENGTH**3], hose_radius_mm=radius * LENGTH, solids=[block]),
        output=dict(
            centreline_mm=(line[:, ::120].T * LENGTH).tolist(),
            peak_curvature_per_mm=float(curvature.max()) / LENGTH,
            bending_energy_Nmm=2 * float(rising[9, -1]) * moment,
            force_on_hose_at_A_N=[-nx * force, 0.0, up * force], force_on_hose_at_B_N=[nx * force, 0.0, up * force],
            moment_on_hose_at_A_Nmm=[0.0, -m0 * moment, 0.0], moment_on_hose_at_B_Nmm=[0.0, m0 * moment, 0.0],
            contacts=[dict(solid=0, at_mm=LENGTH / 2, from_mm=float(a) * LENGTH, to_mm=float(1 - a) * LENGTH, force_N=[0.0, 0.0, (w - 2 * up) * force])],
            error=float(np.abs(found.fun).max()), clear_by=0.0, start_off=0.0,
        ),
    )


if __name__ == "__main__":
    cases = []
    for case in CASES:
        if len(sys.argv) > 1 and case['id'] not in sys.argv[1:]:
            continue
        answer = solve(case)
        places = [(k, round(float(answer["x"][5 + 2 * i]), 4), round(float(answer["x"][6 + 2 * i]), 3)) for i, k in enumerate(answer["contacts"])]
        print(case["id"], "ok" if answer["ok"] else "BAD", places, "error %.1e clear %.1e start off %.1e" % (answer["error"], answer["clear"], answer["start_off"]), file=sys.stderr)
        if answer["ok"] and places:
            cases.append(told(case, answer))
    if len(sys.argv) == 1 or "K10" in sys.argv:
        cases.append(touchdown())
    print(json.dumps(dict(made_by="contact_shooting.py, scipy %s, numpy %s" % (scipy.__version__, np.__version__), cases=cases), indent=1))
