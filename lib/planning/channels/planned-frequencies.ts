import type { Instrument } from "../../survey/survey.js";
import type { PlanOptions } from "../options.js";
import type { ProfilingPlan } from "../plan.js";
import type { PlanGround } from "../scene/plan-ground.js";
import type { PartWorth } from "./part-worth.js";

/** Each frequency with all its channels: alone, left out, and those to leave out together. */
export function plannedFrequencies(
  { instrument }: PlanGround,
  used: PlanOptions,
  worth: PartWorth,
): Pick<ProfilingPlan, "frequencies" | "leaveOut_Hz"> {
  const members = byFrequency(instrument);
  return {
    frequencies: [...members].map(([frequency_Hz, own]) => ({ frequency_Hz, ...worth.of(own) })),
    leaveOut_Hz: leftOut(members, used.addsNothing, worth),
  };
}

/**
 * Frequencies taken out one by one, the least useful first, while the loss stays below the share.
 */
function leftOut(
  members: ReadonlyMap<number, readonly number[]>,
  share: number,
  { lostWithout }: PartWorth,
): readonly number[] {
  const out: number[] = [];
  const gone: number[] = [];
  while (members.size - out.length > 1) {
    const tried = [...members]
      .filter(([frequency_Hz]) => !out.includes(frequency_Hz))
      .map(([frequency_Hz, own]) => ({ frequency_Hz, own, lost: lostWithout([...gone, ...own]) }));
    const least = tried.reduce((best, one) => (one.lost < best.lost ? one : best));
    if (!(least.lost < share)) break;
    out.push(least.frequency_Hz);
    gone.push(...least.own);
  }
  return out;
}

/** Places of the channels by frequency, lowest first. */
function byFrequency({ channels }: Instrument): ReadonlyMap<number, readonly number[]> {
  const members = new Map<number, number[]>();
  const rising = [...channels.entries()].sort(([, a], [, b]) => a.frequency_Hz - b.frequency_Hz);
  for (const [at, { frequency_Hz }] of rising) {
    members.set(frequency_Hz, [...(members.get(frequency_Hz) ?? []), at]);
  }
  return members;
}
