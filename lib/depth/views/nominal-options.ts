import { type Fault, quoted, StepError } from "../../step/step-error.js";
import { unknownOptions } from "../../step/unknown-options.js";
import type { Campaign } from "../../survey/survey.js";

export interface NominalOptions {
  /** Spacing of stations along chainage, m, over 0. Default 2. */
  readonly spacing_m: number;
  /** Share of the value that is noise whatever the averaging, 0 … 1. Default 0.02. */
  readonly proportionalNoise: number;
  /** Least noise of a single reading, ppm of quadrature, over 0. Default 5. */
  readonly floor_ppm: number;
}

export const nominalDefaults: NominalOptions = Object.freeze({
  spacing_m: 2,
  proportionalNoise: 0.02,
  floor_ppm: 5,
});

/** Throws a StepError for options out of range and a campaign that states no conductivity. */
export function refuseBadNominalInput(campaign: Campaign, used: NominalOptions): void {
  const faults: Fault[] = [];
  const check = (name: keyof NominalOptions, expected: string, holds: boolean) => {
    const received = quoted(used[name]);
    if (!holds) faults.push({ code: "option-range", path: `options.${name}`, expected, received });
  };
  check("spacing_m", "over 0", used.spacing_m > 0 && used.spacing_m < Infinity);
  const share = used.proportionalNoise;
  check("proportionalNoise", "between 0 and 1", share > 0 && share < 1);
  check("floor_ppm", "over 0", used.floor_ppm > 0 && used.floor_ppm < Infinity);
  faults.push(...unknownOptions(used, nominalDefaults));
  const usable = campaign.passes.some(
    (pass) =>
      pass.chainage_m.some((x) => !Number.isNaN(x)) &&
      pass.instrument.channels.some(({ kind }) => kind !== "inphase"),
  );
  if (!usable) {
    faults.push({
      code: "no-conductivity",
      path: `campaign ${campaign.label}`,
      expected: "a campaign with a quadrature or conductivity channel and readings with a position",
      received: "none",
    });
  }
  if (faults.length > 0) throw new StepError("nominalView", faults);
}
