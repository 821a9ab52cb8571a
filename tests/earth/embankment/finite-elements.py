# Coils on an embankment by finite elements in three dimensions, another road than the library's: dipoles
# in Coulomb's gauge, A = m x r / r^3 (so that charges on level surfaces count as well as on slopes), trilinear
# bricks fitted to the slopes, conjugate gradients, no transform along strike. Each layer's part is the
# integral of E1 . E2 over it, in units of homogeneous level ground under coils on it. Two meshes are
# extrapolated as squares of the brick's size. The deepest layer, which the box of 300 m cuts off, is
# left out. Made with NumPy and SciPy: python finite-elements.py > finite-elements.json
import json

import numpy as np
import scipy.sparse as sparse
from scipy.sparse.linalg import cg

REACH = 300.0
AXES = {
    "HCP": ((0, 0, 1), (0, 0, 1)),
    "VCP": ((1, 0, 0), (1, 0, 0)),
    "PRP": ((0, 0, 1), (0, 1, 0)),
}
GAUSS = 1 / np.sqrt(3)


def outward(step, growth):
    edges = [0.0]
    while edges[-1] < REACH:
        edges.append(edges[-1] + step)
        step *= growth
    return np.array(edges[1:])


def potential(axis, points, coil):
    r = points - coil
    return np.cross(np.array(axis, float), r) / (np.sqrt((r**2).sum(-1)) ** 3)[..., None]


def levels(tops, height, size):
    """Depths of brick faces within the bank, and below its base."""
    within, marks = [0.0], [t for t in tops if 0 < t < height] + [height]
    for mark in marks:
        count = max(2, int(np.ceil((mark - within[-1]) / (0.16 * size))))
        within += list(np.linspace(within[-1], mark, count + 1)[1:])
    below, step = [height], 0.16 * size
    for mark in [t for t in tops if t > height] + [height + REACH]:
        while below[-1] < mark - 1e-9:
            step *= 1.18
            rest = mark - below[-1]
            below.append(mark if rest < 1.5 * step else below[-1] + step)
    return within, below


def section(bank, tops, size):
    """Nodes (x, z) and quadrilaterals of the cross-section, with each one's layer; x = 0 is the line."""
    half, off, height = bank["crestWidth_m"] / 2, bank["offset_m"], bank["height_m"]
    left = lambda t: -half - off - bank["watersideSlope"] * t
    right = lambda t: half - off + bank["landsideSlope"] * t
    columns = int(np.ceil((right(height) - left(height)) / (0.22 * size)))
    share = np.linspace(0, 1, columns + 1)
    share = 0.175 * (1 - np.cos(np.pi * share)) + 0.65 * share
    beyond = outward(0.22 * size, 1.3)
    within, below = levels(tops, height, size)
    across = [left(t) + share * (right(t) - left(t)) for t in within]
    whole = np.concatenate([left(height) - beyond[::-1], across[-1], right(height) + beyond])
    nodes, rows = [], []
    for z, xs in [*zip(within[:-1], across), *((z, whole) for z in below)]:
        rows.append(len(nodes) + np.arange(len(xs)))
        nodes += [(x, -z) for x in xs]
    on_base = rows[len(within) - 1][len(beyond) : len(beyond) + len(share)]
    blocks = [(rows[: len(within) - 1] + [on_base], within), (rows[len(within) - 1 :], below)]
    quads, layer = [], []
    for ids, depths in blocks:
        for upper, lower, a, b in zip(ids, ids[1:], depths, depths[1:]):
            quads += list(zip(upper[:-1], upper[1:], lower[1:], lower[:-1]))
            layer += [sum(t <= (a + b) / 2 for t in tops) - 1] * (len(upper) - 1)
    return np.array(nodes), np.array(quads), np.array(layer)


def gauss_points(nodes, quads):
    """Shape functions, their gradients, areas and places at the four points of each quadrilateral."""
    corners = nodes[quads]
    for a, b in [(a, b) for a in (-GAUSS, GAUSS) for b in (-GAUSS, GAUSS)]:
        shape = np.array([(1 - a) * (1 - b), (1 + a) * (1 - b), (1 + a) * (1 + b), (1 - a) * (1 + b)]) / 4
        by_a = np.array([-(1 - b), 1 - b, 1 + b, -(1 + b)]) / 4
        by_b = np.array([-(1 - a), -(1 + a), 1 + a, 1 - a]) / 4
        ja, jb = np.einsum("i,qij->qj", by_a, corners), np.einsum("i,qij->qj", by_b, corners)
        det = (ja[:, 0] * jb[:, 1] - ja[:, 1] * jb[:, 0])[:, None]
        gx = (by_a * jb[:, 1:] - by_b * ja[:, 1:]) / det
        gz = (by_b * ja[:, :1] - by_a * jb[:, :1]) / det
        yield shape, gx, gz, np.abs(det[:, 0]), np.einsum("i,qij->qj", shape, corners)


def matrix(quads, blocks, count):
    i = np.repeat(quads[:, :, None], 4, 2).ravel()
    j = np.repeat(quads[:, None, :], 4, 1).ravel()
    return sparse.csr_matrix((blocks.ravel(), (i, j)), (count, count))


def parts(bank, coils, tops, size):
    s = coils["separation_m"]
    nodes, quads, layer = section(bank, tops, size)
    points = list(gauss_points(nodes, quads))
    inner = np.linspace(-s / 2 - 1.5, s / 2 + 1.5, int(np.ceil((s + 3) / (0.2 * size))) + 1)
    far = outward(0.2 * size, 1.3)
    ys = np.concatenate([inner[0] - far[::-1], inner, inner[-1] + far])
    step, count = np.diff(ys), len(nodes)
    pairs = np.stack([np.arange(len(ys) - 1), np.arange(1, len(ys))], 1)
    stiff = sum(w[:, None, None] * (gx[:, :, None] * gx[:, None] + gz[:, :, None] * gz[:, None]) for _, gx, gz, w, _ in points)
    mass = sum(w[:, None, None] * np.outer(n, n) for n, _, _, w, _ in points)
    line = lambda block, scale: sum(
        sparse.csr_matrix((block[a][b] * scale, (pairs[:, a], pairs[:, b])), (len(ys),) * 2)
        for a in (0, 1)
        for b in (0, 1)
    )
    k = sparse.kron(line([[1 / 3, 1 / 6], [1 / 6, 1 / 3]], step), matrix(quads, stiff, count))
    k = (k + sparse.kron(line([[1, -1], [-1, 1]], 1 / step), matrix(quads, mass, count))).tocsr()
    axes = AXES[coils["orientation"]]
    places = [np.array([0, y, coils["height_m"]]) for y in (-s / 2, s / 2)]

    def at_points():
        for n, gx, gz, w, at in points:
            for eta in (-GAUSS, GAUSS):
                for j in range(len(step)):
                    y = ys[j] + step[j] * (1 + eta) / 2
                    where = np.stack([at[:, 0], np.full(len(at), y), at[:, 1]], -1)
                    ends = (1 - eta) / 2, (1 + eta) / 2
                    yield n, gx, gz, w * step[j] / 2, j, ends, [potential(a, where, p) for a, p in zip(axes, places)]

    load = np.zeros((2, len(ys), count))
    gather = lambda values: np.bincount(quads.ravel(), weights=values.ravel(), minlength=count)
    for n, gx, gz, w, j, ends, fields in at_points():
        for c, a in enumerate(fields):
            flat = (a[:, :1] * gx + a[:, 2:] * gz) * w[:, None]
            along = (a[:, 1] * w / step[j])[:, None] * n
            load[c, j] -= gather(flat * ends[0] - along)
            load[c, j + 1] -= gather(flat * ends[1] + along)
    phi = []
    for c in range(2):
        x, failed = cg(k, load[c].ravel(), rtol=1e-7, maxiter=5000, M=sparse.diags(1 / k.diagonal()))
        assert failed == 0
        phi.append(x.reshape(len(ys), count))
    total = np.zeros(len(tops))
    for n, gx, gz, w, j, ends, fields in at_points():
        for c, a in enumerate(fields):
            near, next_ = phi[c][j][quads], phi[c][j + 1][quads]
            both = ends[0] * near + ends[1] * next_
            along = ((next_ - near) * n).sum(1) / step[j]
            a += np.stack([(gx * both).sum(1), along, (gz * both).sum(1)], -1)
        total += np.bincount(layer, weights=(fields[0] * fields[1]).sum(1) * w, minlength=len(tops))
    return total * s / np.pi


usual = {"crestWidth_m": 3, "height_m": 3, "watersideSlope": 2.5, "landsideSlope": 2.5, "offset_m": 0}
lopsided = {"crestWidth_m": 4, "height_m": 4, "watersideSlope": 3, "landsideSlope": 1.5, "offset_m": 0.8}
TOPS = [0, 0.5, 1, 2, 3, 4, 6, 10]
cases = []
for shape, orientation, separation, height in [
    (usual, "VCP", 2, 0.9),
    (usual, "HCP", 4, 0.9),
    (usual, "VCP", 4, 0.9),
    (lopsided, "PRP", 3, 0.9),
    (lopsided, "VCP", 1.5, 0.9),
    (lopsided, "HCP", 1.5, 0.9),
]:
    coils = {"orientation": orientation, "separation_m": separation, "height_m": height}
    coarse, fine = (parts(shape, coils, TOPS, size) for size in (2, 1.4))
    values = fine + (fine - coarse) * 1.4**2 / (2**2 - 1.4**2)
    below = [round(float(v), 5) for v in values[:-1]]
    cases.append({"shape": shape, "coils": coils, "layerTops_m": TOPS, "parts": below})
print(json.dumps(cases, indent=1))
