import { gaussLegendre } from "../../numerics/functions/gauss-legendre.js";
import type { BankSide } from "./missing-ground.js";
import { type Outline, outlineThrough, PANEL_POINTS, straightLine } from "./outline.js";
import type { EmbankmentShape } from "./shape.js";
import { panelLength, panelShape } from "./single-layer.js";

/** A bank's cross-section cut by levels for integration; x = 0 is the line, z = 0 the crest. */
export interface BankSection {
  readonly sides: readonly [waterside: BankSide, landside: BankSide];
  readonly height_m: number;
  /** Below the crest, rising. */
  readonly depths_m: readonly number[];
  /** The ground surface. */
  readonly surface: Outline;
  /** By depth: weights of the surface's points that count what lies on the slopes below it. */
  readonly slopesBelow: readonly Float64Array[];
  /**
   * By depth: the level line within the bank; null at the crest, and from the bank's base on down.
   */
  readonly levels: readonly (Outline | null)[];
  /** Toe to toe. */
  readonly base: Outline;
}

/** How finely a section is divided. */
export interface SectionScale {
  /** The coils' lowest height above the crest, m. */
  readonly height_m: number;
  /** The least distance of coils from an edge that is told from none, m. */
  readonly nearest_m: number;
}

/** The smallest panel at a corner, as a share of the nearest feature. */
const PANEL_SHARE = 0.15;
/** The same where a level line meets the slopes, where fields are smooth. */
const LEVEL_SHARE = 0.5;
/** How far the level ground is followed, in sizes of the bank: its charges fall as the square. */
const FAR = 200;

export function bankSection(
  shape: EmbankmentShape,
  depths_m: readonly number[],
  scale: SectionScale,
): BankSection {
  const height = shape.height_m;
  const sides = sidesFrom(shape, scale);
  const near = Math.min(...sides.map(({ edge_m }) => Math.hypot(edge_m, scale.height_m)));
  const smallest = PANEL_SHARE * Math.min(near, height, sides[0].edge_m + sides[1].edge_m);
  const [left, right] = [
    (d: number) => ({ x: -reachAt(sides[0], d), z: -d }),
    (d: number) => ({ x: reachAt(sides[1], d), z: -d }),
  ];
  const corners = [left(height), left(0), right(0), right(height)];
  const surface = outlineThrough(corners, { smallest, far: FAR });
  const levelAt = (d: number) => {
    const least = Math.max(smallest, LEVEL_SHARE * Math.min(d, height - d));
    return straightLine(left(d), right(d), [least, least]);
  };
  return {
    sides,
    height_m: height,
    depths_m,
    surface,
    slopesBelow: depths_m.map((d) => slopesBelow(surface, d)),
    levels: depths_m.map((d) => (d > 0 && d < height ? levelAt(d) : null)),
    base: straightLine(left(height), right(height), [smallest, smallest]),
  };
}

/** The sides as the line sees them; an edge nearer than can be told from none is moved outward. */
function sidesFrom(shape: EmbankmentShape, scale: SectionScale): [BankSide, BankSide] {
  const gap = Math.sqrt(Math.max(0, scale.nearest_m ** 2 - scale.height_m ** 2));
  const edge = (offset: number) => Math.max(shape.crestWidth_m / 2 + offset, gap);
  return [
    { edge_m: edge(shape.offset_m), slope: shape.watersideSlope },
    { edge_m: edge(-shape.offset_m), slope: shape.landsideSlope },
  ];
}

export function reachAt({ edge_m, slope }: BankSide, depth_m: number): number {
  return edge_m + slope * depth_m;
}

const PIECE = gaussLegendre(PANEL_POINTS);

/** A panel that the depth cuts counts by the polynomial through its points. */
function slopesBelow({ z, normalX, weight }: Outline, depth_m: number): Float64Array {
  const below = new Float64Array(z.length);
  const shape = new Float64Array(PANEL_POINTS);
  for (let first = 0; first < z.length; first += PANEL_POINTS) {
    if (normalX[first] === 0) continue;
    const half = panelLength(weight, first) / 2;
    const middle = (z[first]! + z[first + PANEL_POINTS - 1]!) / 2;
    // z = middle − half · t · normalX; kept is what lies at z < −depth.
    const fall = half * normalX[first]!;
    const cut = Math.max(-1, Math.min(1, (middle + depth_m) / fall));
    const [from, to] = fall > 0 ? [cut, 1] : [-1, cut];
    for (let g = 0; g < PANEL_POINTS; g++) {
      panelShape(from + ((to - from) * (1 + PIECE.node[g]!)) / 2, shape);
      const share = (half * (to - from) * PIECE.weight[g]!) / 2;
      for (let j = 0; j < PANEL_POINTS; j++) {
        below[first + j] = below[first + j]! + share * shape[j]!;
      }
    }
  }
  return below;
}
