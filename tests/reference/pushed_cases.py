"""Writes pushed_cases.json: lies of lie_cases.json under a point force at mid-length, by shooting.

The rod's equations as in recheck_lie_cases.py,
    r' = t,   t' = m x t / EI,   m' = -t x n,   n' = -w,   n(0) = -F_A,   m(0) = -M_A
with n less by the push from mid-length on. Begun at the force and the moment that lie_cases.json states without a push, which is
then grown in steps; after each, force and moment at A are solved for so that the curve arrives at spigot B in its direction. Twist moment m(0).t(0) = 0. Run: python3 pushed_cases.py > pushed_cases.json
"""

import json
import pathlib

import numpy
import scipy
from scipy.integrate import solve_ivp

STATIONS, STEPS = 20, 24
# Case and push in N, not square to anything in particular.
PUSHES = {
    "P01": [[1.5, -1.5, 0.0], [1.0, -1.0, 2.0]],
    "P05": [[0.0, 0.8, 0.0], [0.0, 0.3, -1.0]],
    "P09": [[0.0, 0.0, 1.0]],
    "S01": [[0.0, 1.0, 1.0], [-1.0, 0.0, 2.0]],
    "S05": [[0.5, -0.5, 0.5]],
    "S08": [[0.3, 0.3, -0.8]],
    "G01": [[0.0, 1.0, 1.0]],
    "G02": [[1.0, -2.0, 3.0], [0.0, 0.0, -3.0]],
    "G06": [[0.4, 0.0, 0.6]],
}


def curve(given, unknowns, push, dense):
    stiffness, weight = given["EI_Nmm2"], numpy.array(given["weight_N_per_mm"], float)
    length, start = given["length_mm"], numpy.array(given["tangent_A"], float)
    start /= numpy.linalg.norm(start)
    helper = numpy.eye(3)[numpy.argmin(abs(start))]
    u = numpy.cross(start, helper)
    u /= numpy.linalg.norm(u)
    v = numpy.cross(start, u)
    moment = (u * unknowns[0] + v * unknowns[1]) * stiffness / length
    pull = numpy.array(unknowns[2:]) * stiffness / length**2

    def slope(s, y, less):
        t, m = y[3:6], y[6:9]
        bend = numpy.cross(m, t) / stiffness
        n = pull - weight * s - less
        return numpy.concatenate([t, bend, -numpy.cross(t, n), [stiffness / 2 * (bend @ bend)]])

    y = numpy.concatenate([given["A_mm"], start, moment, [0.0]])
    found = []
    for half, less in ((0, numpy.zeros(3)), (1, push)):
        span = (half * length / 2, (half + 1) * length / 2)
        count = STATIONS // 2 + 1 if not dense else 4001
        places = numpy.linspace(*span, count)
        part = solve_ivp(slope, span, y, "DOP853", places, rtol=1e-12, atol=1e-12, args=(less,)).y
        found.append(part)
        y = part[:, -1]
    return found, (u, v, moment, pull)


def solve(case, push):
    given, stated = case["input"], case["output"]
    stiffness, length = given["EI_Nmm2"], given["length_mm"]
    end, way = numpy.array(given["B_mm"], float), numpy.array(given["tangent_B"], float)
    way /= numpy.linalg.norm(way)
    across = numpy.linalg.svd(way[None])[2][1:]
    _, (u, v, _, _) = curve(given, numpy.zeros(5), numpy.zeros(3), False)
    moment = -numpy.array(stated["moment_on_hose_at_A_Nmm"]) * length / stiffness
    pull = -numpy.array(stated["force_on_hose_at_A_N"]) * length**2 / stiffness
    unknowns = numpy.concatenate([[moment @ u, moment @ v], pull])

    def miss(x, force):
        y = curve(given, x, force, False)[0][1][:, -1]
        return numpy.concatenate([(y[:3] - end) / length, across @ y[3:6]])

    # Newton, with the slopes by central differences.
    for step in range(STEPS + 1):
        force = numpy.array(push) * step / STEPS
        for _ in range(12):
            off = miss(unknowns, force)
            if numpy.abs(off).max() < 1e-11:
                break
            nudge = 1e-4 * numpy.eye(5)
            slopes = [(miss(unknowns + d, force) - miss(unknowns - d, force)) / 2e-4 for d in nudge]
            unknowns = unknowns - numpy.linalg.solve(numpy.array(slopes).T, off)
        assert numpy.abs(off).max() < 1e-10, (case["id"], step, off)
    halves, (_, _, moment, pull) = curve(given, unknowns, force, False)
    line = numpy.hstack([halves[0], halves[1][:, 1:]])
    dense = numpy.hstack(curve(given, unknowns, force, True)[0])
    bend = numpy.linalg.norm(numpy.cross(dense[6:9].T, dense[3:6].T), axis=1) / stiffness
    weight = numpy.array(given["weight_N_per_mm"], float)
    return dict(
        id=case["id"],
        push_N=push,
        centreline_mm=line[:3].T.tolist(),
        tangents=line[3:6].T.tolist(),
        peak_curvature_per_mm=bend.max(),
        mid_curvature_per_mm=float(numpy.linalg.norm(numpy.cross(halves[0][6:9, -1], halves[0][3:6, -1])) / stiffness),
        bending_energy_Nmm=line[9, -1],
        force_on_hose_at_A_N=(-pull).tolist(),
        force_on_hose_at_B_N=(pull - weight * length - force).tolist(),
        moment_on_hose_at_A_Nmm=(-moment).tolist(),
        moment_on_hose_at_B_Nmm=line[6:9, -1].tolist(),
    )


cases = {case["id"]: case for case in json.loads(pathlib.Path(__file__).with_name("lie_cases.json").read_text())["cases"]}
told = [solve(cases[name], push) for name, pushes in PUSHES.items() for push in pushes]
print("{")
for what, words in dict(
    what="Lies of lie_cases.json under a point force at mid-length; the inputs stand there.",
    source="Computed without any code of the project, by pushed_cases.py: shooting with DOP853 at rtol 1e-12 from the stated "
    "force and moment without a push, the push grown in steps.",
    tool=f"scipy {scipy.__version__}, numpy {numpy.__version__}",
    date="2026-11-26",
    tolerance="as in lie_cases.json",
    units="mm, N, N mm^2",
    signs="as in lie_cases.json; push is what the hand does to the hose",
).items():
    print(f' "{what}": {json.dumps(words)},')
print(' "cases": [')
print(",\n".join("  " + json.dumps(case) for case in told))
print(" ]\n}")
