import { checkNumber, NOT_NEGATIVE, POSITIVE, type Rule } from "../earth/check.js";
import { type ConductiveEarth, coilFaults, earthFaults } from "../earth/coil-response.js";
import { type Fault, quoted } from "../step/step-error.js";
import type { Instrument } from "../survey/survey.js";
import type { PlanOptions } from "./options.js";
import type { PlanInput, PlanTarget } from "./plan.js";

/** Every fault of the instrument at the plan's height, of the earth and of the target. */
export function planFaults(
  { instrument, earth, target }: PlanInput,
  used: PlanOptions,
): readonly Fault[] {
  return [
    ...instrumentFaults(instrument, used.height_m ?? instrument?.height_m),
    ...earthFaults(earth),
    ...conductingFaults(earth, "earth"),
    ...targetFaults(target),
  ];
}

function instrumentFaults(instrument: Instrument, height_m: number): Fault[] {
  const channels = instrument?.channels;
  if (!Array.isArray(channels) || channels.length === 0) {
    const expected = "an instrument with one channel at least";
    return [{ code: "empty", path: "instrument.channels", expected, received: quoted(channels) }];
  }
  return channels.flatMap((channel, i) => [
    ...coilFaults({ ...channel, height_m }, `instrument.channels[${i}]`),
    ...kindFaults(channel.kind, `instrument.channels[${i}].kind`),
  ]);
}

function kindFaults(kind: unknown, path: string): Fault[] {
  if (kind === "quadrature" || kind === "inphase" || kind === "conductivity") return [];
  const expected = '"quadrature", "inphase" or "conductivity"';
  return [{ code: "kind", path, expected, received: quoted(kind) }];
}

/** Variations of ground are shares of its conductivity: an insulator has none. */
function conductingFaults(earth: ConductiveEarth, path: string): Fault[] {
  const at = Array.from(earth?.conductivity_S_per_m ?? []).indexOf(0);
  if (at < 0) return [];
  const expected = "above 0 in a plan";
  return [
    { code: "insulator", path: `${path}.conductivity_S_per_m[${at}]`, expected, received: "0" },
  ];
}

function targetFaults(target: PlanTarget | undefined): Fault[] {
  if (target?.kind === "boundary") {
    const inside = [...earthFaults(target.beyond), ...conductingFaults(target.beyond, "earth")];
    return inside.map((fault) => ({
      ...fault,
      path: fault.path.replace(/^earth/, "question.target.beyond"),
    }));
  }
  if (target?.kind !== "lens") {
    const expected = 'a target of kind "lens" or "boundary"';
    return [{ code: "target", path: "question.target", expected, received: quoted(target) }];
  }
  const faults: Fault[] = [];
  const { top_m } = target;
  checkNumber(faults, "question.target.length_m", [target.length_m, POSITIVE]);
  checkNumber(faults, "question.target.top_m", [top_m, NOT_NEGATIVE]);
  checkNumber(faults, "question.target.base_m", [
    target.base_m,
    rule("a finite number above the top", (v) => v > top_m && v < Infinity),
  ]);
  checkNumber(faults, "question.target.conductivityRatio", [
    target.conductivityRatio,
    rule("a finite number above 0 and not 1", (v) => v > 0 && v < Infinity && v !== 1),
  ]);
  return faults;
}

const rule = (expected: string, holds: (value: number) => boolean): Rule => ({
  code: "option-range",
  expected,
  holds,
});
