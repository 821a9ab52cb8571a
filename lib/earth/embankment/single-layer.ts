import { gaussLegendre } from "../../numerics/functions/gauss-legendre.js";
import { besselK0, besselK1 } from "../../numerics/functions/modified-bessel.js";
import { type Corner, type Outline, PANEL_POINTS } from "./outline.js";

/** What a density of 1 at each point of an outline gives at one place: a row of weights each. */
export interface LayerRow {
  readonly potential: Float64Array;
  /** The potential's derivative by z. */
  readonly rise: Float64Array;
}

export function layerRow(points: number): LayerRow {
  return { potential: new Float64Array(points), rise: new Float64Array(points) };
}

/** Lengths of a panel: nearer than this to its middle the panel is integrated piece by piece. */
const NEAR = 1;
const FADED = 40;

/**
 * The potential ∫ μ K0(kr)/2π ds of a density μ on an outline, seen from anywhere, on it too (there
 * the derivative is left without meaning). Far panels by their own points; near ones by finer
 * points toward the place that is seen from, μ taken as the polynomial through the panel's points.
 */
export function fillLayerRow(row: LayerRow, outline: Outline, [at, k]: [Corner, number]): void {
  const { x, z, weight } = outline;
  const seen = { outline, first: 0, at, k };
  for (let first = 0; first < x.length; first += PANEL_POINTS) {
    const last = first + PANEL_POINTS - 1;
    const middleX = (x[first]! + x[last]!) / 2 - at.x;
    const middleZ = (z[first]! + z[last]!) / 2 - at.z;
    const distance = Math.sqrt(middleX * middleX + middleZ * middleZ);
    const length = panelLength(weight, first);
    seen.first = first;
    if (distance < NEAR * length) nearPanel(row, seen);
    else farPanel(row, seen);
  }
}

interface Seen {
  readonly outline: Outline;
  readonly first: number;
  readonly at: Corner;
  readonly k: number;
}

export function panelLength(weight: Float64Array, first: number): number {
  let length = 0;
  for (let j = first; j < first + PANEL_POINTS; j++) length += weight[j]!;
  return length;
}

function farPanel({ potential, rise }: LayerRow, { outline, first, at, k }: Seen): void {
  const { x, z, weight } = outline;
  for (let j = first; j < first + PANEL_POINTS; j++) {
    const dx = at.x - x[j]!;
    const dz = at.z - z[j]!;
    const r = Math.sqrt(dx * dx + dz * dz);
    if (k * r > FADED) {
      potential[j] = 0;
      rise[j] = 0;
      continue;
    }
    const share = weight[j]! / (2 * Math.PI);
    potential[j] = share * besselK0(k * r);
    rise[j] = (-share * k * besselK1(k * r) * dz) / r;
  }
}

const FINE = gaussLegendre(5);
const shape = new Float64Array(PANEL_POINTS);

function nearPanel(row: LayerRow, { outline, first, at, k }: Seen): void {
  const { x, z, weight, normalX, normalZ } = outline;
  const last = first + PANEL_POINTS - 1;
  const half = panelLength(weight, first) / 2;
  const dx = at.x - (x[first]! + x[last]!) / 2;
  const dz = at.z - (z[first]! + z[last]!) / 2;
  // Along the panel and across it, in half lengths.
  const along = (dx * normalZ[first]! - dz * normalX[first]!) / half;
  const split = Math.min(1, Math.max(-1, along));
  const gap = Math.hypot(along - split, (dx * normalX[first]! + dz * normalZ[first]!) / half);
  row.potential.fill(0, first, last + 1);
  row.rise.fill(0, first, last + 1);
  for (const end of [-1, 1]) {
    if (end === split) continue;
    for (let i = 0; i < FINE.node.length; i++) {
      toward(end - split, gap, FINE.node[i]!);
      const t = split + carried[0]!;
      const px = dx - half * t * normalZ[first]!;
      const pz = dz + half * t * normalX[first]!;
      const r = Math.sqrt(px * px + pz * pz);
      if (k * r > FADED) continue;
      const share = (half * Math.abs(carried[1]!) * FINE.weight[i]!) / (2 * Math.PI);
      panelShape(t, shape);
      const value = share * besselK0(k * r);
      const rise = (-share * k * besselK1(k * r) * pz) / r;
      for (let j = 0; j < PANEL_POINTS; j++) {
        row.potential[first + j] = row.potential[first + j]! + value * shape[j]!;
        row.rise[first + j] = row.rise[first + j]! + rise * shape[j]!;
      }
    }
  }
}

/**
 * What `toward` finds, point and derivative: a pair made for each point would cost more than the
 * rest.
 */
const carried = new Float64Array(2);

/**
 * A point of [−1, 1] carried to between 0 and `reach`, and the derivative: dense about 0 on the
 * scale of the gap (a sinh), or, on the panel itself, where the potential is logarithmic, as a
 * cube.
 */
function toward(reach: number, gap: number, node: number): void {
  const v = (1 + node) / 2;
  if (gap < 1e-6) {
    carried[0] = reach * v * v * v;
    carried[1] = 1.5 * reach * v * v;
    return;
  }
  const stretch = Math.asinh(Math.abs(reach) / gap);
  const side = Math.sign(reach) * gap;
  const grown = Math.exp(v * stretch);
  carried[0] = (side * (grown - 1 / grown)) / 2;
  carried[1] = (side * stretch * (grown + 1 / grown)) / 4;
}

const NODES = gaussLegendre(PANEL_POINTS).node;
/** One over the product of a point's distances from the others. */
const SCALE = NODES.map((node, j) =>
  NODES.reduce((scale, other, i) => (i === j ? scale : scale / (node - other)), 1),
);

/** The polynomials that are 1 at one point of a panel and 0 at the others, at t in [−1, 1]. */
export function panelShape(t: number, out: Float64Array): void {
  for (let j = 0; j < PANEL_POINTS; j++) {
    let product = SCALE[j]!;
    for (let i = 0; i < PANEL_POINTS; i++) if (i !== j) product *= t - NODES[i]!;
    out[j] = product;
  }
}
