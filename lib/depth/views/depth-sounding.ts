import type { Caution } from "../../step/step-account.js";
import { type Fault, quoted, StepError } from "../../step/step-error.js";
import { type Given, resultValue, StepResult } from "../../step/step-result.js";
import { unknownOptions } from "../../step/unknown-options.js";
import type { DepthSlices } from "../depth-slices.js";
import { type Sounding, type SoundingOptions, soundingDefaults } from "./sounding.js";
import { soundingAt } from "./sounding-at.js";
import { soundingFigure } from "./sounding-figure.js";
import { soundingFinding, soundingTable } from "./sounding-text.js";

/**
 * One station of a campaign as a sounding: resistivity against depth with its 80 % band, how deep each
 * channel looks there, what the readings decide layer by layer, and the nearest borehole's log.
 *
 * The bounds are 10^(mean ± 1.2816 sd) of log10 resistivity. A channel's sensitivity at a depth is
 * the size of its derivative to ln conductivity in the station's own most likely ground, the whole
 * layered response; the figure shows its share above each depth. What the readings decide is
 * 1 − posterior variance / prior variance.
 *
 * @param slices - what `estimateDepthSlices` gave, stations together or each by itself.
 * @param chainage_m - a place within the line, m; the nearest station with an estimate is taken, the
 *   earlier one of two.
 * @param options - see `SoundingOptions`; what is left out is `soundingDefaults`.
 * @returns the station's m layers, ohm-m at field temperature, and for each channel its shares of
 *   sensitivity by depth. Stations without an estimate are passed over, and a caution says so.
 * @throws StepError for a chainage off the line, options out of range, or slices without an estimate.
 * Limits: bands of layers hold one at a time, and neighbouring layers share much of their error.
 * Source: Rodgers 2000, Inverse Methods for Atmospheric Sounding (variance removed); Ward & Hohmann
 *   1988 (response).
 * @example depthSounding(slices, 1012).value.chainage_m // 1012
 */
export function depthSounding(
  slices: Given<DepthSlices>,
  chainage_m: number,
  options: Partial<SoundingOptions> = {},
): StepResult<Sounding> {
  const input = resultValue(slices);
  const used: SoundingOptions = { ...soundingDefaults, ...options };
  refuseBadSounding(input, chainage_m, used);
  const value = soundingAt(input, chainage_m, used);
  const { boreholes, ...told } = used;
  return new StepResult({
    step: "depthSounding",
    summary: `${soundingFinding(input, value)}.`,
    value,
    used: { chainage_m, ...told, boreholes: boreholes.map(({ borehole }) => borehole) },
    basis: BASIS,
    cautions: cautionsOf(input, value),
    accounting: null,
    figures: [soundingFigure(input, value)],
    tables: [soundingTable(value)],
  });
}

const BASIS = [
  {
    statement:
      "What the readings decide of a layer: the share of the prior's variance they remove.",
    source: "Rodgers 2000, Inverse Methods for Atmospheric Sounding",
  },
  {
    statement: "Sensitivity of a channel by depth: derivatives of the whole layered response.",
    source: "Ward & Hohmann 1988",
  },
];

function refuseBadSounding(input: DepthSlices, chainage_m: number, used: SoundingOptions): void {
  const faults: Fault[] = [...unknownOptions(used, soundingDefaults)];
  const check = (path: string, expected: string, [holds, received]: [boolean, unknown]) => {
    const fault = { code: "option-range", path, expected, received: quoted(received) };
    if (!holds) faults.push(fault);
  };
  const half = input.spacing_m / 2;
  const [first, last] = [input.chainage_m[0]! - half, input.chainage_m.at(-1)! + half];
  const within = chainage_m >= first && chainage_m <= last;
  check("chainage_m", `within the line, ${first} to ${last} m`, [within, chainage_m]);
  const reach = used.boreholeWithin_m;
  check("options.boreholeWithin_m", "0 or over", [reach >= 0, reach]);
  const some = input.gap.includes("");
  check("slices", "slices with an estimate at a station at least", [some, "none"]);
  if (faults.length > 0) throw new StepError("depthSounding", faults);
}

function cautionsOf(input: DepthSlices, value: Sounding): Caution[] {
  const texts = [
    "A station is one reading of the ground in a line of them: look at its neighbours in the section " +
      "before a place is judged by it.",
  ];
  const away = Math.abs(value.chainage_m - value.asked_m);
  if (away > input.spacing_m) {
    texts.push(
      `There is no estimate at ${value.asked_m} m; the nearest station that has one is ` +
        `${away.toFixed(0)} m away, at ${value.chainage_m} m.`,
    );
  }
  if (value.channels.length === 0) {
    texts.push(
      "Coils or their heights are not known here: how deep the channels look is not shown.",
    );
  }
  if (value.borehole !== null) {
    texts.push(
      "A borehole is a hand's breadth of ground, a station some metres of it; the log names no " +
        "resistivity, and a laboratory's has its own temperature.",
    );
  }
  return texts.map((text) => ({ step: "depthSounding", text }));
}
