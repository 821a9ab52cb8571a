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
    ...groundFaults(earth, "earth"),
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
function groundFaults(earth: ConductiveEarth, path: string): Fault[] {
  const faults = earthFaults(earth);
  const at = Array.from(earth?.conductivity_S_per_m ?? []).indexOf(0);
  if (at >= 0) {
    const where = `earth.conductivity_S_per_m[${at}]`;
    faults.push({ code: "insulator", path: where, expected: "above 0 in a plan", received: "0" });
  }
  return faults.map((fault) => ({ ...fault, path: fault.path.replace(/^earth/, path) }));
}

function targetFaults(target: PlanTarget | undefined): Fault[] {
  if (target?.kind === "boundary") {
    return groundFaults(target.beyond, "question.target.beyond");
  }
  if (target?.kind !== "lens") {
    const expected = 'a target of kind "lens" or "boundary"';
    return [{ code: "target", path: "question.target", expected, received: quoted(target) }];
  }
  const { top_m } = target;
  const rules = {
    length_m: POSITIVE,
    top_m: NOT_NEGATIVE,
    base_m: rule("a finite number above the top", (v) => v > top_m),
    conductivityRatio: rule("a finite number above 0 and not 1", (v) => v > 0 && v !== 1),
  };
  const faults: Fault[] = [];
  for (const [name, one] of Object.entries(rules)) {
    const value = target[name as keyof typeof rules];
    checkNumber(faults, `question.target.${name}`, [value, one]);
  }
  return faults;
}

function rule(expected: string, holds: (value: number) => boolean): Rule {
  return { code: "option-range", expected, holds: (value) => holds(value) && value < Infinity };
}
