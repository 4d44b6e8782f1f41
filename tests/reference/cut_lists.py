"""Cut lists of sixty pieces: the least that must be bought, and the fewest lengths for it, by another solver.

Writes cut_lists.csv. Needs Python with numpy and scipy (written with 1.17.1, whose `milp` is HiGHS); the tests do not.

Lists are drawn by rules that were published, in centimetres as there, made millimetres:
- uniform: E. Falkenauer, Journal of Heuristics 2, 1996: sizes even in 20..100, lengths of 150 (from memory).
- triplets: the same: three fill a length of 1000; the first 380..490, the second 250 to half of what is left (from memory).
- several: M. Monaci, thesis, Bologna 2002: lengths of 100, 120, 150, sizes even in 20..100 (from memory).
and by one of ours: metre: pieces even in 12..140 cm, sold in lengths of 1 and 2 m.

The programme is the arc flow of J. M. Valerio de Carvalho, Annals of Operations Research 86, 1999 (from memory): a length is a
path from 0 to its end, an arc for each piece. The objective is the millimetres bought times (pieces + 1), and the number of lengths.
What HiGHS does not prove within the time is written as the bound it has and the best it has.
"""

import csv
import random
import sys

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import coo_matrix

SECONDS = float(sys.argv[1]) if len(sys.argv) > 1 else 20.0
LISTS = 8


def triplets(draw, n):
    takes = []
    for _ in range(n // 3):
        large = draw.randint(380, 490)
        middle = draw.randint(250, (1000 - large) // 2)
        takes += [large, middle, 1000 - large - middle]
    return takes


CLASSES = {
    "uniform": (lambda draw, n: [10 * draw.randint(20, 100) for _ in range(n)], [1500]),
    "triplets": (triplets, [1000]),
    "several": (lambda draw, n: [10 * draw.randint(20, 100) for _ in range(n)], [1000, 1200, 1500]),
    "metre": (lambda draw, n: [10 * draw.randint(12, 140) for _ in range(n)], [1000, 2000]),
}


def solve(takes, lengths):
    unit = int(np.gcd.reduce(takes + lengths))
    sizes = sorted(set(takes), reverse=True)
    count = {size: takes.count(size) for size in sizes}
    longest = max(lengths) // unit
    # Nodes that a path of pieces, largest first, can come to.
    nodes = {0}
    for size in sizes:
        step = size // unit
        for _ in range(count[size]):
            more = {node + step for node in nodes if node + step <= longest}
            if more <= nodes:
                break
            nodes |= more
    ends = {length // unit for length in lengths}
    places = sorted(nodes | ends)
    arcs = []
    for size in sizes:
        step = size // unit
        arcs += [(node, node + step, size) for node in nodes if node + step in nodes or node + step in ends]
    # What is left over: from one place to the next.
    arcs += [(a, b, 0) for a, b in zip(places, places[1:])]
    n = len(arcs) + len(lengths)
    row, column, value = [], [], []
    at = {node: k for k, node in enumerate(places)}
    for k, (a, b, _) in enumerate(arcs):
        row += [at[a], at[b]]
        column += [k, k]
        value += [1, -1]
    for k, length in enumerate(lengths):
        row += [at[length // unit], at[0]]
        column += [len(arcs) + k] * 2
        value += [1, -1]
    flow = coo_matrix((value, (row, column)), (len(places), n))
    needs = {size: k for k, size in enumerate(sizes)}
    wanted = [(needs[size], k) for k, (_, _, size) in enumerate(arcs) if size]
    cover = coo_matrix((np.ones(len(wanted)), tuple(zip(*wanted))), (len(sizes), n))
    more = len(takes) + 1
    cost = np.zeros(n)
    cost[len(arcs):] = [length * more + 1 for length in lengths]
    due = np.array([count[size] for size in sizes])
    upper = np.concatenate([[count.get(size, len(takes)) for _, _, size in arcs], np.full(len(lengths), len(takes))])
    found = milp(
        cost,
        integrality=np.ones(n),
        bounds=Bounds(0, upper),
        constraints=[LinearConstraint(flow, 0, 0), LinearConstraint(cover, due, np.inf)],
        options={"time_limit": SECONDS, "mip_rel_gap": 0},
    )
    best = round(found.fun) if found.x is not None else None
    bound = int(np.ceil(found.mip_dual_bound - 1e-6))
    return best, bound, more


def main():
    with open("cut_lists.csv", "w", newline="", encoding="utf-8") as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(["class", "sold_mm", "takes_mm", "least_mm", "fewest_lengths", "at_least_mm"])
        for name, (pieces, lengths) in CLASSES.items():
            draw = random.Random(name)
            for _ in range(LISTS):
                takes = pieces(draw, 60)
                best, bound, more = solve(takes, lengths)
                proven = best == bound
                least = best // more if best is not None else ""
                row = [" ".join(map(str, lengths)), " ".join(map(str, takes)), least]
                # No sum is but a multiple of what all lengths are.
                whole = int(np.gcd.reduce(lengths))
                at_least = -(-(bound // more) // whole) * whole
                table.writerow([name, *row, best % more if proven else "", at_least])
                print(name, least, at_least, proven, flush=True)


if __name__ == "__main__":
    main()
