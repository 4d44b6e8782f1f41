"""Makes guided_cases.json: hoses through clips, by brute minimisation over polynomials.

Independent of the solver: no elements, no Newton, no multipliers of ours. Between two held points the direction of the
centre line is u(x)/|u(x)|, u a polynomial of degree DEGREE in x = -1..1 (Legendre), its length a variable. The energy

    EI/2 integral |t'|^2 ds - w . integral r ds

is taken by Gauss quadrature and minimised by scipy's SLSQP (exact gradients from autograd) under the closing of
every piece, the clamps, one direction on both sides of a clip, and the total length. The force of a clip is the
derivative of the least energy with the place of the clip (Castigliano), by central differences of re-minimised energies.

Run: python3 guided_cases.py [DEGREE]   (needs numpy, scipy, autograd; a few minutes). Two degrees are run, and
`spread_mm` tells how far their curves differ: what the reference is worth.
"""

import json
import sys

import autograd.numpy as np
from autograd import grad, jacobian
from numpy.polynomial import legendre
from scipy.optimize import minimize

GAUSS = 64
X, W = legendre.leggauss(GAUSS)


def basis(degree, x):
    """Values and derivatives of the Legendre polynomials at x."""
    eye = np.eye(degree + 1)
    value = np.array([legendre.legval(x, c) for c in eye]).T
    slope = np.array([legendre.legval(x, legendre.legder(c)) for c in eye]).T
    return value, slope


class Hose:
    def __init__(self, case, degree):
        self.case, self.degree = case, degree
        self.length = case["length_mm"]
        self.nodes = [case["A_mm"]] + [g["at_mm"] for g in case["guides"]] + [case["B_mm"]]
        self.nodes = [np.array(p) / self.length for p in self.nodes]
        unit = lambda v: np.array(v) / np.linalg.norm(v)
        self.held = [unit(case["tangent_A"])]
        self.held += [None if g["direction"] is None else unit(g["direction"]) for g in case["guides"]]
        self.held += [unit(case["tangent_B"])]
        self.gamma = np.array(case["weight_N_per_mm"]) * self.length**3 / case["EI_Nmm2"]
        self.pieces = len(self.nodes) - 1
        self.value, self.slope = basis(degree, X)
        self.at_ends = basis(degree, np.array([-1.0, 1.0]))[0]
        # Integral of each Gauss-point value from -1 to x_j, and from there for the weight: by exact integration of the
        # interpolating polynomial.
        inverse = np.linalg.inv(legendre.legvander(X, GAUSS - 1))
        upto = np.array([legendre.legval(X, legendre.legint(c, lbnd=-1)) for c in np.eye(GAUSS)]).T
        self.upto = upto @ inverse

    def unpack(self, z):
        size = 3 * (self.degree + 1)
        curves = [z[p * size : (p + 1) * size].reshape(self.degree + 1, 3) for p in range(self.pieces)]
        return curves, z[self.pieces * size :]

    def piece(self, coefficients):
        u, du = self.value @ coefficients, self.slope @ coefficients
        norm = np.sqrt(np.sum(u * u, axis=1))[:, None]
        t = u / norm
        dt = du / norm - t * np.sum(t * du / norm, axis=1)[:, None]
        return t, dt

    def energy(self, z):
        curves, parts = self.unpack(z)
        total = 0.0
        for p, part in enumerate(parts):
            t, dt = self.piece(curves[p])
            places = self.nodes[p] - self.nodes[0] + 0.5 * part * (self.upto @ t)
            total = total + np.sum(W * np.sum(dt * dt, axis=1)) / part
            total = total - 0.5 * part * np.sum(W * (places @ self.gamma))
        return total

    def bending(self, z):
        curves, parts = self.unpack(z)
        return sum(np.sum(W * np.sum(self.piece(c)[1] ** 2, axis=1)) / part for c, part in zip(curves, parts))

    def conditions(self, z):
        curves, parts = self.unpack(z)
        out = [np.array([np.sum(parts) - 1.0])]
        for p, part in enumerate(parts):
            t, _ = self.piece(curves[p])
            out.append(0.5 * part * (W @ t) - (self.nodes[p + 1] - self.nodes[p]))
            for end, held in ((0, self.held[p]), (1, self.held[p + 1])):
                if held is not None:
                    out.append(self.at_ends[end] @ curves[p] - held)
            if p > 0 and self.held[p] is None:
                out.append(self.at_ends[0] @ curves[p] - self.at_ends[1] @ curves[p - 1])
        return np.concatenate(out)

    def start(self):
        """Straight blends of the end directions, bowed by the chord."""
        unit = lambda v: v / np.linalg.norm(v)
        chords = [b - a for a, b in zip(self.nodes, self.nodes[1:])]
        tangents = []
        for j, held in enumerate(self.held):
            if held is None:
                d, e = np.linalg.norm(chords[j - 1]), np.linalg.norm(chords[j])
                held = unit(chords[j - 1] * e / d + chords[j] * d / e)
            tangents.append(held)
        straight = sum(np.linalg.norm(c) for c in chords)
        z = []
        for p, chord in enumerate(chords):
            c = np.zeros((self.degree + 1, 3))
            a, b, m = tangents[p], tangents[p + 1], unit(chord) * 1.5
            mean, half = 0.5 * (a + b), 0.5 * (b - a)
            # Quadratic through a, m, b at -1, 0, 1 in Legendre form.
            second = mean - m
            c[0], c[1], c[2] = m + second / 3, half, 2 * second / 3
            z.append(c.ravel())
        parts = np.array([np.linalg.norm(c) for c in chords]) / straight
        return np.concatenate(z + [parts])

    def solve(self, z, rounds=2):
        options = {"maxiter": 3000, "ftol": 1e-15}
        constraint = {"type": "eq", "fun": self.conditions, "jac": jacobian(self.conditions)}
        for _ in range(rounds):
            found = minimize(self.energy, z, jac=grad(self.energy), constraints=[constraint], options=options, method="SLSQP")
            z = found.x
        error = np.max(np.abs(self.conditions(z)))
        assert error < 1e-9, (self.case["id"], found.message, error)
        return z

    def centreline(self, z, count=21):
        curves, parts = self.unpack(z)
        begin = np.concatenate([[0.0], np.cumsum(parts)])
        points = []
        for k in range(count):
            s = k / (count - 1)
            p = min(int(np.searchsorted(begin, s, side="right")) - 1, self.pieces - 1)
            x = 2 * (s - begin[p]) / parts[p] - 1
            half = 0.5 * (x + 1)
            inner = half * (X + 1) - 1
            u = basis(self.degree, inner)[0] @ curves[p]
            t = u / np.linalg.norm(u, axis=1)[:, None]
            points.append((self.nodes[p] + 0.5 * parts[p] * half * (W @ t)) * self.length)
        return np.array(points)


def solved(case, degree):
    """Unknowns of the least energy, raised in degree step by step."""
    low = Hose(case, 5)
    z = low.solve(low.start())
    for d in (8, degree):
        high = Hose(case, d)
        curves, parts = low.unpack(z)
        grown = [np.vstack([c, np.zeros((d - low.degree, 3))]).ravel() for c in curves]
        z = high.solve(np.concatenate(grown + [parts]))
        low = high
    return low, z


def guide_forces(case, hose, z):
    unit = case["EI_Nmm2"] / case["length_mm"]
    step = 0.2
    forces = []
    for j in range(len(case["guides"])):
        force = []
        for axis in range(3):
            energies = []
            for sign in (1, -1):
                moved = json.loads(json.dumps(case))
                moved["guides"][j]["at_mm"][axis] += sign * step
                h = Hose(moved, hose.degree)
                energies.append(h.energy(h.solve(z, rounds=1)) * unit)
            force.append((energies[0] - energies[1]) / (2 * step))
        forces.append(force)
    return forces


HEATER = {"A_mm": [0, 0, 0], "tangent_A": [0, 1, 0], "B_mm": [-280, 210, 70], "tangent_B": [-1, 0, 0]}
HOSE = {"EI_Nmm2": 57843.0, "weight_N_per_mm": [0, 0, -4.865e-3]}
FREE = None
CASES = [
    {"id": "C1", **HEATER, **HOSE, "length_mm": 445.0, "guides": [{"at_mm": [-75, 140, 40], "direction": FREE}]},
    {"id": "C2", **HEATER, **HOSE, "length_mm": 445.0, "guides": [{"at_mm": [-75, 140, 40], "direction": [-1, 1, 0.4]}]},
    {"id": "C3", **HEATER, **HOSE, "length_mm": 470.0,
     "guides": [{"at_mm": [-40, 130, 0], "direction": FREE}, {"at_mm": [-160, 230, 50], "direction": FREE}]},
    {"id": "C4", **HEATER, **HOSE, "length_mm": 470.0,
     "guides": [{"at_mm": [-20, 110, 15], "direction": [-0.3, 1, 0.2]}, {"at_mm": [-160, 230, 50], "direction": FREE}]},
    {"id": "C5", "A_mm": [0, 0, 0], "tangent_A": [1, 0, 0], "B_mm": [600, 120, -150], "tangent_B": [0.8, 0.6, 0],
     "EI_Nmm2": 47000.0, "weight_N_per_mm": [0, 0, -5.0e-3], "length_mm": 720.0,
     "guides": [{"at_mm": [310, 60, 20], "direction": FREE}]},
    {"id": "C6", "A_mm": [0, 0, 0], "tangent_A": [0, 0, 1], "B_mm": [200, 0, 0], "tangent_B": [0, 0, -1],
     "EI_Nmm2": 30000.0, "weight_N_per_mm": [0.5e-3, 0, -4.0e-3], "length_mm": 480.0,
     "guides": [{"at_mm": [70, 30, 160], "direction": [1, 0.2, 0.1]}, {"at_mm": [165, 25, 120], "direction": FREE}]},
]


def main():
    degree = int(sys.argv[1]) if len(sys.argv) > 1 else 12
    told = []
    for case in CASES:
        coarse, zc = solved(case, degree - 3)
        hose, z = solved(case, degree)
        unit = case["EI_Nmm2"] / case["length_mm"]
        line = hose.centreline(z)
        spread = float(np.max(np.linalg.norm(line - coarse.centreline(zc), axis=1)))
        parts = hose.unpack(z)[1]
        told.append({
            **case,
            "guide_s_mm": [float(s) for s in np.cumsum(parts)[:-1] * case["length_mm"]],
            "guide_force_N": [[float(f) for f in force] for force in guide_forces(case, hose, z)],
            "total_energy_Nmm": float(hose.energy(z) * unit),
            "bending_energy_Nmm": float(hose.bending(z) * unit),
            "centreline_mm": [[float(x) for x in p] for p in line],
            "spread_mm": spread,
        })
        print(case["id"], "spread", spread, "mm, energy", told[-1]["total_energy_Nmm"], "at", told[-1]["guide_s_mm"], "force", told[-1]["guide_force_N"], file=sys.stderr)
    json.dump({"made_by": "guided_cases.py", "degree": degree, "cases": told}, sys.stdout, indent=1)
    print()


if __name__ == "__main__":
    main()
