import { type DepthSlicesMaker, makeDepthSlices } from "./depth-slices.js";

export const autumn_s = Date.UTC(2031, 9, 6, 9) / 1000;
export const spring_s = Date.UTC(2032, 2, 20, 9) / 1000;

interface PairMaker {
  readonly seed: number;
  /** log10 change by chainage and slice. */
  readonly change?: (x: number, k: number) => number;
  readonly noise?: DepthSlicesMaker;
  readonly earlier?: DepthSlicesMaker;
  readonly later?: DepthSlicesMaker;
}

/** Two campaigns over the same ground, each with errors of its own that neighbours share. */
export function makePair({ seed, change = () => 0, noise, earlier, later }: PairMaker) {
  const ground = makeDepthSlices({ seed: seed + 5000, texture: 0.1, correlation_m: 8, sd: 0 });
  const truth = (x: number, k: number) => ground.log10Resistivity[k]![Math.round(x / 2)]!;
  const errors = { texture: 0.02, correlation_m: 4, ...noise };
  return [
    makeDepthSlices({ ...errors, seed, truth, time_s: autumn_s, ...earlier }),
    makeDepthSlices({
      ...errors,
      seed: seed + 1000,
      truth: (x, k) => truth(x, k) + change(x, k),
      time_s: spring_s,
      campaign: "2032-03",
      ...later,
    }),
  ] as const;
}

/** A change by a factor between two chainages in the two shallow slices. */
export const wetter = (factor: number, from: number, to: number) => (x: number, k: number) =>
  k < 2 && x >= from && x <= to ? Math.log10(factor) : 0;
