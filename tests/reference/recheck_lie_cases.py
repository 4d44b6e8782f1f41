"""Integrates every case of lie_cases.json afresh and says how far it is from what the file states.

Each case states the force and the moment of spigot A. They are the initial values of the rod's equations
    r' = t,   t' = m x t / EI,   m' = -t x n,   n' = -w,   n(0) = -F_A,   m(0) = -M_A
so one integration gives the whole curve, and it must arrive at spigot B. Run: python3 recheck_lie_cases.py
"""

import json
import pathlib

import numpy
import scipy
from scipy.integrate import solve_ivp


def integrate(case):
    given, stated = case["input"], case["output"]
    stiffness, weight = given["EI_Nmm2"], numpy.array(given["weight_N_per_mm"], float)
    force = -numpy.array(stated["force_on_hose_at_A_N"], float)
    start = numpy.concatenate([given["A_mm"], given["tangent_A"], -numpy.array(stated["moment_on_hose_at_A_Nmm"]), [0.0]])

    def slope(s, y):
        t, m = y[3:6], y[6:9]
        bend = numpy.cross(m, t) / stiffness
        return numpy.concatenate([t, bend, -numpy.cross(t, force - weight * s), [stiffness / 2 * (bend @ bend)]])

    stations = numpy.linspace(0.0, given["length_mm"], len(stated["centreline_mm"]))
    return solve_ivp(slope, (0.0, stations[-1]), start, "DOP853", stations, rtol=1e-13, atol=1e-13).y


worst = dict(line_mm=0.0, end_tangent=0.0, energy_relative=0.0)
for case in json.loads(pathlib.Path(__file__).with_name("lie_cases.json").read_text())["cases"]:
    given, stated, y = case["input"], case["output"], integrate(case)
    miss = dict(
        line_mm=max(
            numpy.abs(y[:3].T - stated["centreline_mm"]).max(), numpy.abs(y[:3, -1] - numpy.array(given["B_mm"])).max()
        ),
        end_tangent=numpy.abs(y[3:6, -1] - numpy.array(given["tangent_B"])).max(),
        energy_relative=abs(y[9, -1] / stated["bending_energy_Nmm"] - 1.0),
    )
    print(case["id"], {what: f"{value:.1e}" for what, value in miss.items()})
    worst = {what: max(worst[what], miss[what]) for what in worst}
print("scipy", scipy.__version__, "numpy", numpy.__version__, "worst", worst)
