# Coil pairs along the crest of an embankment of two materials, body and foundation, at full induction.
# Potentials A (in ground and air) and phi (in the ground) in Coulomb's gauge, bilinear bricks in the
# cross-section, one wavenumber along strike at a time: -lap A + i w mu s (A0 + A + grad phi) = 0,
# div s (A0 + A + grad phi) = 0, A0 of the transmitter; response: the integral of s (A0 + A + grad phi) . A0
# of the receiver. Quadrature and in-phase are in units of low-induction quadrature of level ground of 1 S/m.
# One coarse mesh: good to about 1 %; a quarter of an hour.
# Made with NumPy and SciPy: python full-induction.py > full-induction.json
import importlib.util
import json
import pathlib
import sys

import numpy as np
import scipy.sparse as sparse
from scipy.interpolate import CubicSpline
from scipy.sparse.linalg import splu

here = pathlib.Path(__file__).with_name("bank-factors.py")
spec = importlib.util.spec_from_file_location("bank_factors", here)
low = importlib.util.module_from_spec(spec)
spec.loader.exec_module(low)

MU = 4e-7 * np.pi


def with_air(nodes, quads, size):
    """The ground's bricks and, above its surface, the air's; the surface's nodes are shared."""
    edges = {}
    for a, b, c, d in quads:
        for p, q in ((a, b), (b, c), (c, d), (d, a)):
            edges[(p, q)] = True
    outer = [(p, q) for p, q in edges if (q, p) not in edges]
    after = dict(outer)
    # The surface runs from the far left to the far right along boundary edges.
    chain = [np.lexsort((-nodes[:, 1], nodes[:, 0]))[0]]
    while nodes[after[chain[-1]], 1] > -20:
        chain.append(after[chain[-1]])
    chain = np.array(chain)
    top = low.graded(0, low.REACH, 0.12 * size, 1 + 0.22 * size)[1:] / low.REACH
    extra, ids = [], [chain]
    for f in top:
        ids.append(len(nodes) + len(extra) + np.arange(len(chain)))
        extra += [(x, z + f * (low.REACH - z)) for x, z in nodes[chain]]
    air = []
    for below, above in zip(ids, ids[1:]):
        air += list(zip(above[:-1], above[1:], below[1:], below[:-1]))
    return np.vstack([nodes, extra]), np.array(air)


def spectra(bank, cases, pairs, size):
    """Of each case (conductivities of body and foundation, frequency) the complex response by pair and ln k."""
    ground, quads, depth, _ = low.section(bank, [bank["height_m"]], size)
    nodes, air = with_air(ground, quads, size)
    count, inside = len(nodes), len(ground)
    points, points_air = list(low.gauss_points(nodes, quads)), list(low.gauss_points(nodes, air))
    stiff = lambda pts: sum(w[:, None, None] * (gx[:, :, None] * gx[:, None] + gz[:, :, None] * gz[:, None]) for _, gx, gz, w, _ in pts)
    mass = lambda pts: sum(w[:, None, None] * np.outer(n, n) for n, _, _, w, _ in pts)
    mixed = lambda pts, d: sum(w[:, None, None] * n[None, :, None] * (gx, gz)[d][:, None, :] for n, gx, gz, w, _ in pts)
    def matrix(blocks, q):
        i, j = np.repeat(q[:, :, None], 4, 2).ravel(), np.repeat(q[:, None, :], 4, 1).ravel()
        return sparse.csr_matrix((blocks.ravel(), (i, j)), (count, count))
    stiff_all = matrix(stiff(points), quads) + matrix(stiff(points_air), air)
    mass_all = matrix(mass(points), quads) + matrix(mass(points_air), air)
    far = (np.abs(nodes[:, 0]) > 0.99 * low.REACH) | (np.abs(nodes[:, 1]) > 0.99 * low.REACH)
    keep_a, keep_phi = np.flatnonzero(~far), np.flatnonzero(~far & (np.arange(count) < inside))
    heights = sorted({pair["height_m"] for pair in pairs})
    ln_k = np.arange(np.log(0.002 / 30), np.log(9 / heights[0]), 0.5)
    gathered = lambda values: np.bincount(quads.ravel(), weights=values.real.ravel(), minlength=count) + 1j * np.bincount(quads.ravel(), weights=values.imag.ravel(), minlength=count)
    kinds = sorted({(p["orientation"], p["height_m"]) for p in pairs})
    out = np.zeros((len(cases), len(kinds), len(ln_k)), complex)
    for i, k in enumerate(np.exp(ln_k)):
        axes = sorted({(axis, h) for o, h in kinds for axis in low.AXES[o]})
        # As complex parts: upright (i q, x p, 0); across (0, -z p, -i q); along (z p, 0, -x p).
        fields = {}
        for axis, h in axes:
            rows = []
            for *_, at in points:
                ax, ay, az = low.potential(axis, at[:, 0], at[:, 1] - h, k)
                rows.append((ax, ay, az) if axis == "along" else (1j * ax, ay + 0j, 1j * az))
            fields[axis, h] = rows
        for c, (column, frequency) in enumerate(cases):
            sg = np.where(depth < bank["height_m"], column[0], column[1])
            weighed = lambda blocks: matrix(blocks * sg[:, None, None], quads)
            stiff_in, mass_in = weighed(stiff(points)), weighed(mass(points))
            dx, dz = weighed(mixed(points, 0)), weighed(mixed(points, 1))  # (v, d u)
            b = 1j * 2 * np.pi * frequency * MU
            rows_phi, rows_a = keep_phi, keep_a
            diagonal = (stiff_all + k * k * mass_all + b * mass_in)[rows_a][:, rows_a]
            to_phi = [m[rows_a][:, rows_phi] for m in (dx, 1j * k * mass_in, dz)]
            # (grad v, A): the transpose, conj(ik) for the part along strike
            from_a = [m.T.tocsr()[rows_phi][:, rows_a] for m in (dx, -1j * k * mass_in, dz)]
            phi_phi = (stiff_in + k * k * mass_in)[rows_phi][:, rows_phi]
            system = sparse.bmat(
                [[diagonal if r == s else None for s in range(3)] + [b * to_phi[r]] for r in range(3)]
                + [[from_a[0], from_a[1], from_a[2], phi_phi]],
                format="csc",
            )
            lu = splu(system, permc_spec="MMD_AT_PLUS_A", options={"SymmetricMode": True}, diag_pivot_thresh=0.01)
            total = {}
            for key, parts in fields.items():
                loads = [np.zeros(count, complex) for _ in range(4)]
                for (n, gx, gz, w, _), a in zip(points, parts):
                    for r in range(3):
                        loads[r] -= b * gathered(a[r][:, None] * n * (w * sg)[:, None])
                    loads[3] -= gathered((a[0][:, None] * gx + a[2][:, None] * gz - 1j * k * a[1][:, None] * n) * (w * sg)[:, None])
                x = lu.solve(np.concatenate([loads[r][rows_a] for r in range(3)] + [loads[3][rows_phi]]))
                full = np.zeros((4, count), complex)
                for r in range(3):
                    full[r, rows_a] = x[r * len(rows_a) : (r + 1) * len(rows_a)]
                full[3, rows_phi] = x[3 * len(rows_a) :]
                at = full[:, quads]
                total[key] = [
                    (a[0] + at[0] @ n + (gx * at[3]).sum(1), a[1] + at[1] @ n + 1j * k * (at[3] @ n), a[2] + at[2] @ n + (gz * at[3]).sum(1))
                    for (n, gx, gz, _, _), a in zip(points, parts)
                ]
            for j, (orientation, h) in enumerate(kinds):
                first, second = low.AXES[orientation]
                out[c, j, i] = sum(
                    ((e[0] * np.conj(a[0]) + e[1] * np.conj(a[1]) + e[2] * np.conj(a[2])) * w * sg).sum()
                    for e, a, (*_, w, _) in zip(total[first, h], fields[second, h], points)
                )
        print(f"{i + 1} of {len(ln_k)}", file=sys.stderr)
    return ln_k, kinds, out


def responses(bank, cases, pairs, size):
    """(quadrature, in-phase) in units of the low-induction quadrature of level ground, by case and pair."""
    ln_k, kinds, out = spectra(bank, cases, pairs, size)
    rows = []
    for c in range(len(cases)):
        row = []
        for p in pairs:
            f = out[c, kinds.index((p["orientation"], p["height_m"]))]
            if p["orientation"] == "PRP":
                f = -1j * f
            q, i = low.back(ln_k, f.real, p), low.back(ln_k, f.imag, p)
            row.append((round(float(q), 7), round(float(-i), 7)))
        rows.append(row)
    return rows


if __name__ == "__main__":
    PAIRS = low.pairs_of(["HCP", "VCP"], [1.8, 3.7], 0.9)
    CASES = [
        ((0.025, 0.025), 1e4),
        ((0.025, 0.025), 6e4),
        ((0.1, 0.1), 6e4),
        ((1 / 30, 0.5), 1e4),
        ((1 / 30, 0.5), 6e4),
        ((0.005, 0.1), 6e4),
    ]
    bank = low.BANKS["broad"]
    rows = [
        {"conductivity_S_per_m": [round(s, 7) for s in column], "frequency_Hz": frequency, "responses": row}
        for (column, frequency), row in zip(CASES, responses(bank, CASES, PAIRS, 3))
    ]
    print(json.dumps({"shape": bank, "pairs": PAIRS, "cases": rows}))
