# Low-induction response of coil pairs along the crest of an embankment made of several materials, over that
# of endless layers as they lie under the line: another road than the library's. In the cross-section, by finite elements
# (bilinear bricks fitted to the slopes, direct solver) for each wavenumber along strike: E = A + grad phi,
# div(sigma E) = 0, no current through the surface, A = m x r / r^3 (Coulomb's gauge), so that charges count on
# slopes, level surfaces and contacts alike. R = integral of sigma E1 . E2, transformed back along strike; of two
# meshes, extrapolated as squares of the brick's size.
# Made with NumPy and SciPy: python bank-factors.py > bank-factors.json
import json
import sys

import numpy as np
import scipy.sparse as sparse
from scipy.interpolate import CubicSpline
from scipy.sparse.linalg import splu
from scipy.special import k0, k1

REACH = 3000.0
GAUSS = 1 / np.sqrt(3)
AXES = {"HCP": ("upright", "upright"), "VCP": ("across", "across"), "PRP": ("upright", "along")}


def graded(start, end, first, growth, most=np.inf):
    """Steps from start to end that grow up to `most`."""
    edges, step = [start], first
    while end - edges[-1] > 1.5 * step:
        edges.append(edges[-1] + step)
        step = min(most, step * growth)
    return np.array([*edges, end])


def shares(bank, size):
    """Columns of the bank as shares of its width: dense under the line and at the crest's edges."""
    half, off = bank["crestWidth_m"] / 2, bank["offset_m"]
    sides = [graded(0, half + side, 0.05 * size, 1.12, 0.16 * size) for side in (off, -off)]
    edges = [np.unique(np.concatenate([s, s[-1] - graded(0, 0.3, 0.03 * size, 1.3)])) for s in sides]
    core = [-0.5 * half, 0.5 * half]
    x = np.unique(np.round(np.concatenate([-edges[0], edges[1], core]), 9))
    x = x[np.concatenate([[True], np.diff(x) > 0.01 * size])]
    return (x + half + off) / (2 * half)


def section(bank, marks, size):
    """Nodes (x, z), bricks, the depth of each one's middle and its share of the width; x = 0 is the line."""
    half, off, height = bank["crestWidth_m"] / 2, bank["offset_m"], bank["height_m"]
    left = lambda d: -half - off - bank["watersideSlope"] * d
    right = lambda d: half - off + bank["landsideSlope"] * d
    t = shares(bank, size)
    within = [0.0]
    for mark in [m for m in marks if 0 < m < height] + [height]:
        within += list(graded(within[-1], mark, min(0.05 + 0.08 * within[-1], 0.15) * size, 1.12, 0.15 * size)[1:])
    below = [height]
    for mark in [m for m in marks if m > height] + [REACH]:
        below += list(graded(below[-1], mark, 0.15 * size, 1 + 0.2 * size)[1:])
    across = [left(d) + t * (right(d) - left(d)) for d in within]
    beyond = graded(0, REACH, 0.15 * size, 1 + 0.22 * size)[1:]
    whole = np.concatenate([left(height) - beyond[::-1], across[-1], right(height) + beyond])
    nodes, rows = [], []
    for d, xs in [*zip(within[:-1], across), *((d, whole) for d in below)]:
        rows.append(len(nodes) + np.arange(len(xs)))
        nodes += [(x, -d) for x in xs]
    on_base = rows[len(within) - 1][len(beyond) : len(beyond) + len(t)]
    quads, depth, share = [], [], []
    outer = np.concatenate([np.full(len(beyond), -1.0), (t[1:] + t[:-1]) / 2, np.full(len(beyond), 2.0)])
    for ids, depths, place in [
        (rows[: len(within) - 1] + [on_base], within, (t[1:] + t[:-1]) / 2),
        (rows[len(within) - 1 :], below, outer),
    ]:
        for upper, lower, a, b in zip(ids, ids[1:], depths, depths[1:]):
            quads += list(zip(upper[:-1], upper[1:], lower[1:], lower[:-1]))
            depth += [(a + b) / 2] * (len(upper) - 1)
            share += list(place)
    return np.array(nodes), np.array(quads), np.array(depth), np.array(share)


def gauss_points(nodes, quads):
    corners = nodes[quads]
    for a, b in [(a, b) for a in (-GAUSS, GAUSS) for b in (-GAUSS, GAUSS)]:
        n = np.array([(1 - a) * (1 - b), (1 + a) * (1 - b), (1 + a) * (1 + b), (1 - a) * (1 + b)]) / 4
        by_a = np.array([-(1 - b), 1 - b, 1 + b, -(1 + b)]) / 4
        by_b = np.array([-(1 - a), -(1 + a), 1 + a, 1 - a]) / 4
        ja, jb = np.einsum("i,qij->qj", by_a, corners), np.einsum("i,qij->qj", by_b, corners)
        det = (ja[:, 0] * jb[:, 1] - ja[:, 1] * jb[:, 0])[:, None]
        gx = (by_a * jb[:, 1:] - by_b * ja[:, 1:]) / det
        gz = (by_b * ja[:, :1] - by_a * jb[:, :1]) / det
        yield n, gx, gz, np.abs(det[:, 0]), np.einsum("i,qij->qj", n, corners)


def potential(axis, x, z, k):
    """Transform of m x r / r^3 along strike, without the factor i where it is imaginary: x, y, z parts."""
    rho = np.hypot(x, z)
    p, q = 2 * k * k1(k * rho) / rho, 2 * k * k0(k * rho)
    zero = np.zeros_like(p)
    # upright: (i q, x p, 0); across: (0, -z p, -i q); along: (z p, 0, -x p)
    return {"upright": (q, x * p, zero), "across": (zero, -z * p, -q), "along": (z * p, zero, -x * p)}[axis]


def responses(bank, columns, pairs, size):
    """R of each pair, row by column of materials, in units of homogeneous level ground of 1 S/m, and of
    the first, of one material, its parts between PART_TOPS."""
    marks = sorted({*PART_TOPS[1:], *(top for column in columns for top in column["top_m"][1:])})
    nodes, quads, depth, share = section(bank, marks, size)
    points = list(gauss_points(nodes, quads))
    heights = sorted({pair["height_m"] for pair in pairs})
    sigmas = [conductivity(column, depth, share) for column in columns]
    lowest, widest = heights[0], 30.0
    ln_k = np.arange(np.log(0.002 / widest), np.log(14 / lowest), 0.3)
    rows, columns_ = np.repeat(quads[:, :, None], 4, 2).ravel(), np.repeat(quads[:, None, :], 4, 1).ravel()
    count = len(nodes)
    gathered = lambda values: np.bincount(quads.ravel(), weights=values.ravel(), minlength=count)
    stiff = sum(w[:, None, None] * (gx[:, :, None] * gx[:, None] + gz[:, :, None] * gz[:, None]) for _, gx, gz, w, _ in points)
    mass = sum(w[:, None, None] * np.outer(n, n) for n, _, _, w, _ in points)
    kinds = sorted({(o, h) for o, h in ((p["orientation"], p["height_m"]) for p in pairs)})
    spectra = np.zeros((len(columns), len(kinds), len(ln_k)))
    parts_k = np.zeros((len(PART_TOPS), len(kinds), len(ln_k)))
    bins = np.searchsorted(PART_TOPS, depth, side="right") - 1
    for i, k in enumerate(np.exp(ln_k)):
        axes = sorted({(axis, h) for o, h in kinds for axis in AXES[o]})
        fields = {key: [potential(key[0], at[:, 0], at[:, 1] - key[1], k) for *_, at in points] for key in axes}
        for c, sigma in enumerate(sigmas):
            blocks = (stiff + k * k * mass) * sigma[:, None, None]
            solve = splu(sparse.csc_matrix((blocks.ravel(), (rows, columns_)), (count, count))).solve
            total = {}
            for key, parts in fields.items():
                # Imaginary phi = i psi for upright and across, real for along.
                sign = 1 if key[0] == "along" else -1
                load = np.zeros(count)
                for (n, gx, gz, w, _), (ax, ay, az) in zip(points, parts):
                    flow = ax[:, None] * gx + az[:, None] * gz + sign * k * ay[:, None] * n
                    load -= gathered(flow * (w * sigma)[:, None])
                phi = solve(load)[quads]
                total[key] = [
                    (ax + (gx * phi).sum(1), ay + sign * k * (phi @ n), az + (gz * phi).sum(1))
                    for (n, gx, gz, _, _), (ax, ay, az) in zip(points, parts)
                ]
            for j, (orientation, h) in enumerate(kinds):
                first, second = (total[axis, h] for axis in AXES[orientation])
                turn = -1 if orientation == "PRP" else 1
                bricks = sum(
                    (a[0] * b[0] + turn * a[1] * b[1] + a[2] * b[2]) * w * sigma
                    for a, b, (*_, w, _) in zip(first, second, points)
                )
                spectra[c, j, i] = bricks.sum()
                if c == 0:
                    parts_k[:, j, i] = np.bincount(bins, weights=bricks, minlength=len(PART_TOPS)) / sigma[0]
        print(f"{i + 1} of {len(ln_k)}", file=sys.stderr)
    rows_of = lambda table: [[back(ln_k, row[kinds.index((p["orientation"], p["height_m"]))], p) for p in pairs] for row in table]
    return np.array(rows_of(spectra) + rows_of(parts_k))


def conductivity(column, depth, share):
    layer = np.searchsorted(column["top_m"], depth, side="right") - 1
    rho = np.array(column["resistivity_ohm_m"], float)[layer]
    core = column.get("core")
    if core is not None:
        inside = (np.abs(share - core["middle"]) < core["half"]) & (depth > core["top_m"]) & (depth < core["base_m"])
        rho[inside] = core["resistivity_ohm_m"]
    return 1 / rho


def back(ln_k, values, pair):
    """(s / pi) (1 / pi) times the integral over k > 0 of f cos(k s), or f sin(k s) for PRP."""
    s = pair["separation_m"]
    spline = CubicSpline(ln_k, values, bc_type="natural")
    nodes, weights = np.polynomial.legendre.leggauss(8)
    wave = np.sin if pair["orientation"] == "PRP" else np.cos
    sum_ = 0 if pair["orientation"] == "PRP" else np.exp(ln_k[0]) * values[0]
    for a, b in zip(np.exp(ln_k[:-1]), np.exp(ln_k[1:])):
        pieces = 1 + int((b - a) * s)
        for e in range(pieces):
            half = (b - a) / pieces / 2
            k = a + (2 * e + 1) * half + half * nodes
            sum_ += half * (weights * spline(np.log(k)) * wave(k * s)).sum()
    return sum_ * s / np.pi**2 * (-1 if pair["orientation"] == "PRP" else 1)


def below(orientation, z):
    root = np.sqrt(4 * z * z + 1)
    return {"HCP": 1 / root, "VCP": root - 2 * z, "PRP": 1 - 2 * z / root}[orientation]


def level(column, pair):
    """R of endless layers as they lie under the line (McNeill 1980; Wait 1962)."""
    tops, rho = column["top_m"], column["resistivity_ohm_m"]
    core = column.get("core")
    if core is not None:
        tops = [0, core["top_m"], core["base_m"]]
        rho = [rho[0], core["resistivity_ohm_m"], rho[-1]]
    at = [below(pair["orientation"], (t + pair["height_m"]) / pair["separation_m"]) for t in tops] + [0]
    return sum((at[j] - at[j + 1]) / rho[j] for j in range(len(tops)))


def on_bank(bank, columns, pairs):
    coarse, fine = (responses(bank, columns, pairs, size) for size in (1.4, 1.0))
    best = fine + (fine - coarse) / (1.4**2 - 1)
    sections = [
        {**column, "factors": [round(float(v / level(column, p)), 4) for v, p in zip(row, pairs)]}
        for column, row in zip(columns, best)
    ]
    return {"sections": sections, "parts": [[round(float(v), 5) for v in row] for row in best[len(columns) :].T]}


def pairs_of(orientations, separations, height):
    return [
        {"orientation": o, "separation_m": s, "height_m": height} for o in orientations for s in separations
    ]


PART_TOPS = [0, 0.25, 0.5, 0.75, 1, 1.5, 2, 3, 4, 6, 10]
PAIRS = [
    *pairs_of(["HCP", "VCP"], [1.3, 2.2, 3.7], 0.3),
    *pairs_of(["PRP"], [1.5, 2.4, 3.3], 0.3),
    *pairs_of(["HCP"], [2, 4], 0.5),
    *pairs_of(["HCP", "VCP"], [1.1, 2], 0.6),
    *pairs_of(["HCP", "VCP"], [1, 1.8, 3.7], 0.9),
]


def columns_of(height):
    one = lambda name, tops, rho, **more: {"name": name, "top_m": tops, "resistivity_ohm_m": rho, **more}
    core = {"middle": 0.5, "half": 0.25, "top_m": 0.6, "base_m": height}
    return [
        one("homogeneous", [0], [40]),
        one("on clay", [0, height], [40, 10]),
        one("on sand", [0, height], [40, 120]),
        one("dry crust", [0, 0.6, height], [200, 25, 60]),
        one("clay core", [0, 0.6, height], [60, 60, 30], core={**core, "resistivity_ohm_m": 15}),
    ]


BANKS = {
    "broad": {"crestWidth_m": 4, "height_m": 3.8, "watersideSlope": 3, "landsideSlope": 2.5, "offset_m": 0},
    "narrow": {"crestWidth_m": 3, "height_m": 3, "watersideSlope": 2.5, "landsideSlope": 2.5, "offset_m": 0},
}

if __name__ == "__main__":
    made = {name: {"shape": bank, **on_bank(bank, columns_of(bank["height_m"]), PAIRS)} for name, bank in BANKS.items()}
    print(json.dumps({"pairs": PAIRS, "partTops_m": PART_TOPS, "banks": made}))
