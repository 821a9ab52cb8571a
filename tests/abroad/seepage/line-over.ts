import { measuredAs, wennerSpreads } from "../../support/electrode-lines.js";
import type { BankShape } from "../earth/slopes.js";
import { type Column, meanLog10 } from "../ground/columns.js";
import type { Ground } from "../ground/layered-ground.js";
import { embankmentFactor, type ResistivityLine, sectionResponse } from "../lib.js";

const COUNT = 33;
const STEP_M = 1.5;

interface LinePlan {
  /** Chainage of the first electrode. */
  readonly at_m: number;
  readonly seed: number;
  readonly shape: BankShape;
}

/** Electrodes along the crest, Wenner spreads of six sizes, raised as over a homogeneous bank. */
export function lineOver(ground: Ground, { at_m, seed, shape }: LinePlan): ResistivityLine {
  const electrodes = Array.from({ length: COUNT }, (_, k) => ({
    x_m: STEP_M * k,
    elevation_m: 6.2,
  }));
  const sizes = [1, 2, 3, 4, 6, 8];
  const spreads = wennerSpreads(COUNT, sizes);
  const raised = new Map(sizes.map((size) => [size, raisedBy(shape, size * STEP_M)]));
  const level = sectionResponse(earthUnder(ground, at_m), electrodes, spreads);
  const apparent_ohm_m = spreads.map(({ a, m }, i) => level[i]! * raised.get(m - a)!);
  const line = measuredAs({ electrodes, spreads, apparent_ohm_m, noise: 0.02, seed });
  return { ...line, line: "R1", chainage_m: at_m };
}

function raisedBy(shape: BankShape, size_m: number): number {
  const spread = { a_m: -1.5 * size_m, b_m: 1.5 * size_m, m_m: -size_m / 2, n_m: size_m / 2 };
  return embankmentFactor(shape, spread);
}

function earthUnder(ground: Ground, at_m: number) {
  const x_m = Array.from({ length: 60 }, (_, i) => -6 + i + 0.13);
  const depth_m = [0, 0.3, 0.6, 0.95, 1.3, 1.7, 2.1, 2.6, 3.1, 3.8, 4.6, 5.6, 7, 9, 12];
  const columns = x_m
    .slice(1)
    .map((x, i): Column => ground.columnAt(Math.max(0, at_m + (x + x_m[i]!) / 2)));
  const rows = depth_m
    .slice(1)
    .map((base, j) => columns.map((column) => 10 ** meanLog10(column, depth_m[j]!, base)));
  return { x_m, depth_m, resistivity_ohm_m: rows };
}
