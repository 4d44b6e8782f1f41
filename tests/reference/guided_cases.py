"""Makes guided_cases.json: hoses through clips, by brute minimisation over polynomials.

Independent of the solver: no elements, no Newton, no multipliers of ours. Between two held points the direction of the
centre line is u(x)/|u(x)|, u a polynomial of degree DEGREE in x = -1..1 (Legendre), its length a variable. The energy

    EI/2 integral |t'|^2 ds - w . integral r ds

is taken by Gauss quadrature and minimised by scipy's SLSQP under the closing of
every piece, the clamps, one direction on both sides of a clip, and the total length. The force of a clip is the
derivative of the least energy with the place of the clip (Castigliano), by central differences of re-minimised energies.

Run: python3 guided_cases.py [DEGREE]   (needs numpy, scipy; some minutes). Two degrees are run, and
`spread_mm` tells how far their curves differ: what the reference is worth.
"""

import json
import sys

import numpy as np
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
        """Directions t at the Gauss points, |dt/dx|², and what is needed for their slopes."""
        u, du = self.value @ coefficients, self.slope @ coefficients
        a, b, c = np.sum(u * u, 1)[:, None], np.sum(u * du, 1)[:, None], np.sum(du * du, 1)[:, None]
        t = u / np.sqrt(a)
        square = c / a - (b / a) ** 2
        by_u = 2 * (2 * b * b / a - c) / a**2 * u - 2 * b / a**2 * du
        by_du = 2 * du / a - 2 * b / a**2 * u
        return t, np.sqrt(a), square, by_u, by_du

    def energy(self, z):
        """Energy in units of EI/L, and its gradient."""
        curves, parts = self.unpack(z)
        total, slopes, by_parts = 0.0, [], []
        for p, part in enumerate(parts):
            t, norm, square, by_u, by_du = self.piece(curves[p])
            bending = W @ square[:, 0]
            moment = (W @ self.upto) @ (t @ self.gamma)
            lift = self.gamma @ (self.nodes[p] - self.nodes[0])
            # - integral of gamma.r over the piece; the weights add up to 2.
            total += bending / part - part * lift - 0.25 * part**2 * moment
            by_parts.append(-bending / part**2 - lift - 0.5 * part * moment)
            by_t = -0.25 * part**2 * np.outer(W @ self.upto, self.gamma)
            by_t = (by_t - t * np.sum(by_t * t, 1)[:, None]) / norm
            weight = W[:, None] / part
            slopes.append((self.value.T @ (weight * by_u + by_t) + self.slope.T @ (weight * by_du)).ravel())
        return total, np.concatenate(slopes + [by_parts])

    def bending(self, z):
        curves, parts = self.unpack(z)
        return sum(W @ self.piece(c)[2][:, 0] / part for c, part in zip(curves, parts))

    def conditions(self, z):
        """What must vanish, and its gradient: total length, closing, clamps, one direction in a free clip."""
        curves, parts = self.unpack(z)
        size = 3 * (self.degree + 1)
        out, rows = [[np.sum(parts) - 1.0]], [np.zeros((1, len(z)))]
        rows[0][0, self.pieces * size :] = 1.0

        def fix(p, end, sign=1.0):
            row = np.zeros((3, len(z)))
            row[:, p * size : (p + 1) * size] = sign * np.kron(self.at_ends[end], np.eye(3))
            return row

        for p, part in enumerate(parts):
            t, norm, *_ = self.piece(curves[p])
            out.append(0.5 * part * (W @ t) - (self.nodes[p + 1] - self.nodes[p]))
            turn = (np.eye(3)[None] - t[:, :, None] * t[:, None, :]) / norm[:, :, None]
            row = np.zeros((3, len(z)))
            row[:, p * size : (p + 1) * size] = 0.5 * part * np.einsum("j,jab,jk->akb", W, turn, self.value).reshape(3, size)
            row[:, self.pieces * size + p] = 0.5 * (W @ t)
            rows.append(row)
            for end, held in ((0, self.held[p]), (1, self.held[p + 1])):
                if held is not None:
                    out.append(self.at_ends[end] @ curves[p] - held)
                    rows.append(fix(p, end))
            if p > 0 and self.held[p] is None:
                out.append(self.at_ends[0] @ curves[p] - self.at_ends[1] @ curves[p - 1])
                rows.append(fix(p, 0) + fix(p - 1, 1, -1.0))
        return np.concatenate(out), np.vstack(rows)

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
        constraint = {"type": "eq", "fun": lambda z: self.conditions(z)[0], "jac": lambda z: self.conditions(z)[1]}
        for _ in range(rounds):
            options = {"maxiter": 3000, "ftol": 1e-15}
            found = minimize(self.energy, z, jac=True, constraints=[constraint], options=options, method="SLSQP")
            z = found.x
        error = np.max(np.abs(self.conditions(z)[0]))
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
                energies.append(h.energy(h.solve(z, rounds=1))[0] * unit)
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
            "total_energy_Nmm": float(hose.energy(z)[0] * unit),
            "bending_energy_Nmm": float(hose.bending(z) * unit),
            "centreline_mm": [[float(x) for x in p] for p in line],
            "spread_mm": spread,
        })
        print(case["id"], "spread", spread, "mm, energy", told[-1]["total_energy_Nmm"], "at", told[-1]["guide_s_mm"], "force", told[-1]["guide_force_N"], file=sys.stderr)
    json.dump({"made_by": "guided_cases.py", "degree": degree, "cases": told}, sys.stdout, indent=1)
    print()


if __name__ == "__main__":
    main()
