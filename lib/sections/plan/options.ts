import { type ResistiveEarth, resistiveFaults } from "../../earth/spread-response.js";
import { choiceOption, customOption, progressOption } from "../../step/options/kinds.js";
import { numberOption, numberOr } from "../../step/options/number.js";
import type { OptionsOf } from "../../step/options/option.js";
import { defaultsOf } from "../../step/options/resolve.js";

const positive = (value: number, unit: string, meaning: string) =>
  numberOption({ default: value, above: 0, unit, meaning });

const notNegative = (value: number, unit: string, meaning: string) =>
  numberOption({ default: value, from: 0, unit, meaning });

export const planLineOptions = {
  earth: customOption<ResistiveEarth>({
    default: Object.freeze({ resistivity_ohm_m: [50], thickness_m: [] }),
    rule: "layers: resistivity_ohm_m, each above 0, and thickness_m of all but the last",
    faults: (earth, path) =>
      resistiveFaults(earth as ResistiveEarth).map((fault) => ({
        ...fault,
        path: fault.path.replace(/^earth/, path),
      })),
    role: "data",
    shown: (earth) => ({ ...earth }),
    meaning: "The ground expected about the target.",
  }),
  array: choiceOption(["compared", "Wenner", "Schlumberger", "dipole-dipole"], {
    default: "compared",
    meaning:
      'The array; "compared": all three are tried on the same ground, and the best is named.',
  }),
  spacing_m: numberOr(["suggested"], {
    default: "suggested",
    above: 0,
    unit: "m",
    meaning:
      'Distance of electrodes; "suggested": as a rule of thumb no more than the target\'s ' +
      "thickness, a third of its length, and its depth or half its thickness.",
  }),
  electrodes: numberOr(["suggested"], {
    default: "suggested",
    from: 8,
    upTo: 96,
    whole: true,
    meaning:
      'Electrodes of the line; "suggested": as a rule of thumb a line of nine times the depth of ' +
      "the target's base, or its length and four depths, whichever is longer; 64 at the most.",
  }),
  noise: numberOption({
    default: 0.03,
    above: 0,
    below: 0.5,
    meaning: "Share of a reading that is noise.",
  }),
  current_mA: positive(100, "mA", "Current of a reading."),
  voltageNoise_mV: notNegative(0.05, "mV", "Noise of a voltage, whatever its size."),
  groundSd: notNegative(0.1, "", "Natural variation of the ground, deviation of ln ρ."),
  groundLength_m: positive(5, "m", "Reach of that variation along the line."),
  groundDepth_m: positive(1, "m", "Reach of that variation with depth."),
  overlap: numberOption({
    default: 0.5,
    above: 0,
    upTo: 1,
    meaning:
      "A target is recovered where the body of half its contrast overlaps it by this share of " +
      "the area of both, in reliable cells.",
  }),
  trials: numberOption({
    default: 12,
    from: 2,
    upTo: 500,
    whole: true,
    meaning: "Lines that are measured and inverted, each with ground and noise of its own.",
  }),
  secondsPerReading: positive(
    5,
    "s",
    "Time of a reading, stacks and change of electrodes included.",
  ),
  minutesPerElectrode: notNegative(1.5, "min", "Time to set, wet and check one electrode."),
  setUp_min: notNegative(30, "min", "Time to lay out and take up the cable and to mark the line."),
  seed: numberOption({ default: 1, whole: true, meaning: "Seed of ground, places and noise." }),
  progress: progressOption(
    "Called now and then with the share of the work done, as parts of a total.",
  ),
};

/** Options of `planLine`, resolved. */
export interface PlanLineOptions extends OptionsOf<typeof planLineOptions> {}

export const planLineDefaults: PlanLineOptions = defaultsOf(planLineOptions);
