/**
 * The shape of the scatter along a line, whatever its size: white noise, a texture that is alike
 * over some distance, and a level that wanders.
 */
export interface GroundShape {
  /** Distance over which the texture's correlation falls to 1/e, m. */
  readonly reach_m: number;
  /** Share of white noise in the variance of noise and texture together, above 0 to 1. */
  readonly white: number;
  /** Variance that the level gains in 100 m by wandering, over that of noise and texture. */
  readonly wander: number;
}

const REACHES_M = [2, 4, 8, 15, 30];
const WHITES = [0.03, 0.1, 0.25, 0.5, 0.75, 1];
const WANDERS = [0, 0.03, 0.1, 0.3, 1, 3, 10, 30];

/** Variance that samples would have if means over many, independent, scattered as theirs do. */
export function longRunFactor({ reach_m, white }: GroundShape, spacing_m: number): number {
  const keep = Math.exp(-spacing_m / reach_m);
  return white + ((1 - white) * (1 + keep)) / (1 - keep);
}

/** A place on the grid of shapes. */
export type ShapeAt = readonly [reach: number, white: number, wander: number];

export function shapeOf([reach, white, wander]: ShapeAt): GroundShape {
  return {
    reach_m: REACHES_M[reach] ?? Number.NaN,
    white: WHITES[white] ?? Number.NaN,
    wander: WANDERS[wander] ?? Number.NaN,
  };
}

/** Where a search begins: little is assumed of the texture. */
export const SHAPE_STARTS: readonly ShapeAt[] = [
  [2, 3, 0],
  [2, 3, 4],
  [4, 1, 0],
];

/** The next places on the grid, one step along one axis. */
export function nextShapes([reach, white, wander]: ShapeAt): readonly ShapeAt[] {
  const all: readonly ShapeAt[] = [
    [reach - 1, white, wander],
    [reach + 1, white, wander],
    [reach, white - 1, wander],
    [reach, white + 1, wander],
    [reach, white, wander - 1],
    [reach, white, wander + 1],
  ];
  return all.filter(([r, w, q]) => isOn(r, REACHES_M) && isOn(w, WHITES) && isOn(q, WANDERS));
}

const isOn = (at: number, list: readonly number[]) => at >= 0 && at < list.length;
