import type { Block } from "../../blocks/blocks.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import { itemAt, neighbours } from "../../numerics/arrays.js";
import {
  type LineChannels,
  lineChannels,
  sidesOf,
  stepBetween,
  stepCovariance,
} from "./channel-steps.js";
import { placeResponse } from "./place-response.js";
import { explainedByHeight } from "./step-evidence.js";

/** A boundary at which coils carried at another height would explain what the channels do. */
export interface CarriedStep {
  readonly at_m: number;
  /** By how much higher from there on, m; the mean of the walks. */
  readonly height_m: number;
}

/** A height that differs by less than this is within how evenly coils are carried, m. */
const LEAST_M = 0.05;
/** Log evidence over other ground from which on a height is named: a factor of e. */
const LEAST_EVIDENCE = 1;
/** Channels that tell a height from the ground. */
const LEAST_CHANNELS = 2;

/**
 * The boundaries of a line that a step of the coils' height explains better than other ground does.
 *
 * The channels' mean readings over 24 m on either side are held against each other. Their step is
 * that of coils carried higher or lower over the ground before the place, the heights normal about
 * those stated with 0.15 m, or of ground whose layers step by 0.15 to 1.2 of ln conductivity. Steps
 * of the line where there is no boundary say what noise, swaying and texture make. A height is
 * named where its evidence is e times the ground's. One channel tells nothing; nor does a line that
 * is boundaries all along.
 *
 * Source: Laplace's approximation of the evidence (MacKay 2003, chapter 27, from memory).
 */
export function heightStepsOfBlocks(
  slices: DepthSlices,
  blocks: readonly Stretch[],
): readonly CarriedStep[] {
  const line = lineChannels(slices);
  const boundaries_m = blocks.slice(1).map(({ from_m }) => from_m);
  if (boundaries_m.length === 0 || line.channels.length < LEAST_CHANNELS) return [];
  const covariance = stepCovariance(line, boundaries_m);
  if (covariance === null) return [];
  return neighbours(blocks).flatMap(([before, after]) => {
    const within_m = [before.from_m, after.to_m] as const;
    const height_m = heightAt({ slices, line, covariance }, after.from_m, within_m);
    return Math.abs(height_m) >= LEAST_M ? [{ at_m: after.from_m, height_m }] : [];
  });
}

/** A block, by its ends. */
export type Stretch = Pick<Block, "from_m" | "to_m">;

interface Line {
  readonly slices: DepthSlices;
  readonly line: LineChannels;
  readonly covariance: Float64Array;
}

/** The height that explains a place better than ground does, m; 0 where none does. */
function heightAt(
  { slices, line, covariance }: Line,
  at_m: number,
  within_m: readonly [number, number],
): number {
  const stationAt = (x: number) => line.chainage_m.filter((one) => one < x).length;
  const [first, last] = [stationAt(within_m[0]), stationAt(within_m[1])];
  const sides = sidesOf(line, stationAt(at_m), [first, last]);
  const step = stepBetween(line, sides);
  const index = [...step.keys()].filter((c) => !Number.isNaN(step[c]));
  if (index.length < LEAST_CHANNELS) return 0;
  const response = placeResponse(slices, line, { index, sides });
  // No estimate on a side: nothing is known of the ground there.
  if (!response.stated.every(Number.isFinite)) return 0;
  const q = step.length;
  const found = explainedByHeight(
    {
      value: response.stated.map((one, a) => itemAt(step, itemAt(index, a)) - one),
      covariance: new Float64Array(index.length ** 2).map((_, at) => {
        const [a, b] = [Math.floor(at / index.length), at % index.length];
        return itemAt(covariance, itemAt(index, a) * q + itemAt(index, b));
      }),
      walk: index.map((c) => itemAt(line.walk, c)),
    },
    response,
  );
  if (!(found.overGround > LEAST_EVIDENCE)) return 0;
  return found.height_m.reduce((sum, one) => sum + one / found.height_m.length, 0);
}
