import { firstOf, lastOf } from "../../../numerics/arrays.js";
import type { StepReport } from "../../../step/define-step.js";
import type { Basis } from "../../../step/step-account.js";
import { type Fault, quoted } from "../../../step/step-error.js";
import type { DepthSlices } from "../../depth-slices.js";
import { soundingFigure } from "./figures.js";
import { soundingFinding } from "./finding.js";
import type { SoundingOptions } from "./options.js";
import type { Sounding } from "./sounding.js";
import type { SoundingPlace } from "./sounding-at.js";
import { soundingTable } from "./tables.js";

/** Faults of a place off the line, and of slices without an estimate. */
export function soundingFaults({ slices, chainage_m }: SoundingPlace): readonly Fault[] {
  const half = slices.spacing_m / 2;
  const [first, last] = [firstOf(slices.chainage_m) - half, lastOf(slices.chainage_m) + half];
  const faults: Fault[] = [];
  if (!(chainage_m >= first && chainage_m <= last)) {
    const expected = `within the line, ${first} to ${last} m`;
    faults.push({
      code: "option-range",
      path: "chainage_m",
      expected,
      received: quoted(chainage_m),
    });
  }
  if (!slices.gap.includes("")) {
    const expected = "slices with an estimate at a station at least";
    faults.push({ code: "no-estimate", path: "slices", expected, received: "none" });
  }
  return faults;
}

/** What `depthSounding` says of itself. */
export function soundingReport(
  value: Sounding,
  _used: SoundingOptions,
  { slices }: SoundingPlace,
): StepReport<Sounding> {
  return {
    value,
    summary: `${soundingFinding(slices, value)}.`,
    basis: BASIS,
    cautions: cautionsOf(slices, value),
    figures: [soundingFigure(slices, value)],
    tables: [soundingTable(value)],
  };
}

const BASIS: readonly Basis[] = [
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

function cautionsOf({ spacing_m }: DepthSlices, value: Sounding): readonly string[] {
  const texts = [
    "A station is one reading of the ground in a line of them: look at its neighbours in the " +
      "section " +
      "before a place is judged by it.",
  ];
  const away = Math.abs(value.chainage_m - value.asked_m);
  if (away > spacing_m) {
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
  return texts;
}
