"""Recomputes the tables of the coolant that come from other programs, and says how many rows agree as printed.

    python3 -m venv venv
    venv/bin/pip install CoolProp==8.0.0 fluids==1.3.1 iapws==1.5.5 chemicals==1.5.2 ht==1.2.0 scipy
    venv/bin/python coolant.py [folder of the tables]

The tests do not need it. A row agrees if every recomputed cell is the printed one to half of its last digit.
A table that is not in the folder is told and passed over. Ends with 1 if any row of any table disagrees.
"""

import csv
import math
import pathlib
import sys

import CoolProp.CoolProp as cp
from chemicals.dippr import EQ101
from chemicals.vapor_pressure import Psat_data_Perrys2_8
from fluids.fittings import bend_rounded, contraction_sharp, diffuser_sharp
from fluids.friction import Churchill_1977, Clamond
from ht.conv_free_immersed import Nu_horizontal_cylinder_Churchill_Chu, Nu_horizontal_cylinder_Morgan
from iapws.iapws97 import _PSat_T, _TSat_P
from scipy.optimize import brentq

FOLDER = pathlib.Path(sys.argv[1] if len(sys.argv) > 1 else pathlib.Path(__file__).parent)
ZERO_C = 273.15


def rows(name):
    """The rows of a table below its comments, or None if it is not there."""
    path = FOLDER / name
    if not path.exists():
        return None
    with path.open(encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def agrees(printed, value):
    """Whether `value` is the printed number to half of its last digit."""
    mantissa, _, exponent = printed.lower().partition("e")
    digits = len(mantissa.partition(".")[2])
    half = 0.5 * 10 ** (int(exponent or 0) - digits)
    # A hair for numbers that end in a five.
    return abs(float(printed) - value) <= half * (1 + 1e-6) + 1e-15


def check(name, recompute):
    """Prints how the rows of one table fare. `recompute` takes a row and gives a cell's value by column, or None to skip."""
    table = rows(name)
    if table is None:
        print(f"{name:28} not here")
        return True
    seen = good = cells = passed = 0
    worst = ("", 0.0)
    for row in table:
        found = recompute(row)
        if found is None:
            passed += 1
            continue
        seen += 1
        wrong = []
        for column, value in found.items():
            if row.get(column, "") == "":
                continue
            cells += 1
            if not agrees(row[column], value):
                wrong.append((column, row[column], value))
                off = abs(float(row[column]) - value) / max(abs(float(row[column])), 1e-30)
                if off > worst[1]:
                    worst = (f"{column} {row[column]} is now {value:.8g} in {list(row.values())[:4]}", off)
        good += not wrong
    note = f", {passed} not from these programs" if passed else ""
    print(f"{name:28} {good} of {seen} rows agree ({cells} cells{note})" + (f"; farthest: {worst[0]}" if worst[0] else ""))
    return good == seen


def number(row, column):
    return float(row[column])


def friction(row):
    reynolds, rough = number(row, "Re"), number(row, "rel_roughness")
    ours = Churchill_1977(Re=reynolds, eD=rough)
    return {"f_Churchill_lib": ours, "f_Churchill_own": churchill(reynolds, rough),
            "f_Colebrook_Clamond": Clamond(Re=reynolds, eD=rough), "f_64_over_Re": 64 / reynolds}


def churchill(reynolds, rough):
    a = (2.457 * math.log(1 / ((7 / reynolds) ** 0.9 + 0.27 * rough))) ** 16
    b = (37530 / reynolds) ** 16
    return 8 * ((8 / reynolds) ** 12 + (a + b) ** -1.5) ** (1 / 12)


def bends(row):
    of = dict(Di=0.016, angle=number(row, "angle_deg"), bend_diameters=number(row, "R_over_d"), Re=number(row, "Re"))
    return {f"K_{name}": bend_rounded(roughness=0, method=method, **of) for name, method in
            [("Rennels", "Rennels"), ("Ito", "Ito"), ("Miller", "Miller"), ("Crane", "Crane"), ("Swamee", "Swamee")]}


def spigots(row):
    beta = number(row, "beta=d_small/d_large")
    square = 1 - beta * beta
    return {"K_contraction_Rennels": contraction_sharp(Di1=1.0, Di2=beta), "K_contraction_half": 0.5 * square,
            "K_expansion_lib": diffuser_sharp(Di1=beta, Di2=1.0), "K_expansion_BordaCarnot": square * square}


def region_4(row):
    given = number(row, "given")
    return {"found": 1000 * _PSat_T(given) if row["equation"] == "30" else _TSat_P(given / 1000)}


def saturation(row):
    bar = number(row, "p_bar_abs")
    return {"T_sat_C_IF97": _TSat_P(bar / 10) - ZERO_C,
            "T_sat_C_IAPWS95": cp.PropsSI("T", "P", bar * 1e5, "Q", 0, "HEOS::Water") - ZERO_C}


def liquid(fluid, celsius, pascal):
    def ask(what):
        return cp.PropsSI(what, "T", celsius + ZERO_C, "P", pascal, fluid)
    return ask("D"), ask("C"), 1000 * ask("V"), ask("L")


def water(row):
    # The row of 0 is at the triple point: at 0 itself and one atmosphere this is ice.
    celsius = max(number(row, "T_C"), 0.01)
    vapour = cp.PropsSI("P", "T", celsius + ZERO_C, "Q", 0, "HEOS::Water")
    pascal = max(101325, 1.02 * vapour)
    density, heat, viscosity, conductivity = liquid("HEOS::Water", celsius, pascal)
    return {"p_Pa": pascal, "rho_kg_m3": density, "cp_J_kgK": heat, "mu_mPas": viscosity, "k_W_mK": conductivity,
            "p_sat_Pa": vapour}


GLYCOLS = {"MEG": ("107-21-1", 62.06784, 1113.2), "MPG": ("57-55-6", 76.09442, 1036.2)}


def vapour_of(glycol, kelvin):
    return EQ101(kelvin, *(float(Psat_data_Perrys2_8.loc[GLYCOLS[glycol][0], f"C{i}"]) for i in range(1, 6)))


def vapour(row):
    return {"p_Pa": vapour_of(row["glycol"], number(row, "T_K"))}


def boils(glycol, mass, pascal):
    """Raoult's law with activity coefficients of one."""
    water, other = (1 - mass) / 18.01528, mass / GLYCOLS[glycol][1]
    share = water / (water + other)
    excess = lambda kelvin: share * 1e6 * _PSat_T(kelvin) + (1 - share) * vapour_of(glycol, kelvin) - pascal
    return brentq(excess, 320, 520, xtol=1e-9) - ZERO_C


def mass_of(glycol, volume):
    of = GLYCOLS[glycol][2] * volume
    return of / (of + 998.2 * (1 - volume))


def boiling(row):
    height, volume = number(row, "altitude_m"), number(row, "vol_fraction")
    pascal = 101325 * (1 - 2.25577e-5 * height) ** 5.25588 + 1e5 * number(row, "cap_bar_gauge")
    mass = mass_of(row["glycol"], volume)
    return {"mass_fraction": mass, "p_abs_Pa": pascal, "T_boil_C": boils(row["glycol"], mass, pascal)}


def boiling_elsewhere(row):
    return {"T_Raoult_C": boils("MEG", number(row, "mass_fraction"), number(row, "p_abs_Pa"))}


def glycols(row):
    share, celsius = number(row, "mass_fraction"), number(row, "T_C")
    name = row["glycol"] if row["model"].startswith("Melinder") else {"MEG": "AEG", "MPG": "APG"}[row["glycol"]]
    density, heat, viscosity, conductivity = liquid(f"INCOMP::{name}[{share}]", celsius, 3e5)
    return {"rho_kg_m3": density, "cp_J_kgK": heat, "mu_mPas": viscosity, "k_W_mK": conductivity}


def between(row):
    density, _, viscosity, _ = liquid(f"INCOMP::AEG[{row['volume_fraction']}]", number(row, "T_C"), 3e5)
    return {"rho_kg_m3": density, "mu_mPas": viscosity}


FLUIDS = {"EG 50 vol% inhibited": "INCOMP::AEG[0.5]", "EG 33 vol%": "INCOMP::AEG[0.33]", "PG 50 vol%": "INCOMP::APG[0.5]",
          "MEG 50 mass%": "INCOMP::MEG[0.5]", "water": "HEOS::Water",
          "MEG 50 vol% inhibited (AEG 0.5 by volume)": "INCOMP::AEG[0.5]", "MEG 50 mass% (Melinder)": "INCOMP::MEG[0.5]",
          "MPG 50 mass% (Melinder)": "INCOMP::MPG[0.5]"}


def expansion(row):
    at = [liquid(FLUIDS[row["fluid"]], celsius, 3e5)[0] for celsius in (20, number(row, "T_C"))]
    return {"rho": at[1], "expansion_from_20C_percent": 100 * (at[0] / at[1] - 1)}


def hose(row):
    density, _, viscosity, _ = liquid(FLUIDS[row["fluid"]], number(row, "T_C"), 3e5)
    bore = number(row, "d_mm") / 1000
    velocity = number(row, "Q_L_min") / 60000 / (math.pi / 4 * bore**2)
    reynolds = 1000 * density * velocity * bore / viscosity
    f = Churchill_1977(Re=reynolds, eD=number(row, "eps_um") / 1e6 / bore)
    dynamic = density * velocity**2 / 2
    return {"rho": density, "mu_mPas": viscosity, "v_m_s": velocity, "Re": reynolds, "f": f,
            "dp_Pa_per_m": f / bore * dynamic, "dyn_pressure_Pa": dynamic}


def freezing(row):
    """The columns of CoolProp; the tables themselves are from books."""
    def melts(name, share):
        fluid = f"INCOMP::{name}[{share}]"
        return cp.PropsSI("T_freeze", "T", 300, "P", 3e5, fluid) - ZERO_C
    # The propylene rows are by volume; their mass fraction is printed rounded.
    mass = number(row, "mass_fraction") if row["glycol"] == "MEG" else mass_of("MPG", number(row, "volume_fraction"))
    found = {"T_freeze_Melinder_mass_C": melts(row["glycol"], mass)}
    if row["T_freeze_CoolProp_A_vol_C"]:
        name = {"MEG": "AEG", "MPG": "APG"}[row["glycol"]]
        found["T_freeze_CoolProp_A_vol_C"] = melts(name, number(row, "volume_fraction"))
    return found


def air(row):
    celsius = number(row, "T_C")
    density, heat, viscosity, conductivity = liquid("HEOS::Air", celsius, 101325)
    return {"rho": density, "cp": heat, "mu_uPas": 1000 * viscosity, "k": conductivity,
            "nu_mm2_s": 1000 * viscosity / density, "alpha_mm2_s": 1e6 * conductivity / (density * heat),
            "Pr": heat * viscosity / 1000 / conductivity}


def convection(row):
    prandtl, rayleigh = number(row, "Pr"), number(row, "Ra")
    own = (0.60 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)) ** 2
    return {"Nu_ChurchillChu_lib": Nu_horizontal_cylinder_Churchill_Chu(Pr=prandtl, Gr=rayleigh / prandtl),
            "Nu_ChurchillChu_own": own, "Nu_Morgan_lib": Nu_horizontal_cylinder_Morgan(Pr=prandtl, Gr=rayleigh / prandtl)}


TABLES = [
    ("friction_darcy.csv", friction), ("bend_loss.csv", bends), ("spigot_loss.csv", spigots),
    ("if97_region4.csv", region_4), ("glycol_vapour.csv", vapour), ("water_saturation.csv", saturation), ("water_liquid.csv", water),
    ("boiling_points.csv", boiling), ("boiling_check.csv", boiling_elsewhere), ("glycol_properties.csv", glycols),
    ("aeg_between.csv", between),
    ("coolant_expansion.csv", expansion), ("freeze_points.csv", freezing), ("hose_dp_cases.csv", hose),
    ("air_properties.csv", air), ("natural_convection_hcyl.csv", convection),
]
sys.exit(0 if all([check(name, recompute) for name, recompute in TABLES]) else 1)
