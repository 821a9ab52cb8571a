import type { GroundChange } from "../../ground/columns.js";
import { type Campaign, correctDrift, type DepthSlices, estimateDepthSlices } from "../../lib.js";
import { chance } from "../../random.js";
import { makeSurvey } from "../../survey.js";
import { campaignsOf } from "../../written/in-memory.js";
import { type Condition, type ConditionName, conditionOf } from "./conditions.js";

/** A stretch of chainage, m. */
export interface Interval {
  readonly from_m: number;
  readonly to_m: number;
}

/** Three campaigns over one bank: nothing changed to the second, something to the third. */
export interface Estimated {
  readonly condition: ConditionName;
  readonly seed: number;
  readonly instrument: string;
  readonly ground: string;
  readonly planted: readonly GroundChange[];
  readonly campaigns: readonly [DepthSlices, DepthSlices, DepthSlices];
  /** What the second and the third campaign did not read, m. */
  readonly gaps: readonly Interval[];
}

/** The depth slices of three campaigns under a condition: drift corrected, all else by default. */
export async function estimated(name: ConditionName, seed: number): Promise<Estimated> {
  const condition = conditionOf(name);
  const { errors, length_m, instruments, grounds } = condition;
  const instrument = instruments[seed % instruments.length]!;
  const ground = grounds[Math.floor(seed / instruments.length) % grounds.length]!;
  const planted = condition.planted(chance(seed, `planted/${name}`));
  const patches = [1, 2].flatMap(
    (campaign) => condition.patches?.(chance(seed, `patches/${campaign}`), campaign) ?? [],
  );
  const plan = { seed, ground, instrument, errors, length_m, campaigns: 3 };
  const made = makeSurvey({ ...plan, changes: [...patches, ...planted] });
  const [first, ...others] = campaignsOf(made).map((one) => correctDrift(one).value);
  const before = (await estimateDepthSlices(first!)).value;
  const shared = before.slices.length > 0 ? { slices: before.slices } : {};
  const after: DepthSlices[] = [];
  const gaps = condition.gap_m === undefined ? [] : [0, 1].map((k) => gapOf(condition, seed, k));
  for (const [k, one] of others.entries()) {
    const read = gaps[k] === undefined ? one : without(one, gaps[k]);
    after.push(withChannels((await estimateDepthSlices(read, shared)).value, condition));
  }
  const campaigns = [before, after[0]!, after[1]!] as const;
  return { condition: name, seed, instrument, ground, planted, campaigns, gaps };
}

function gapOf({ gap_m = 0, length_m }: Condition, seed: number, k: number): Interval {
  const from_m = chance(seed, `gap/${k}`).between(0, length_m - gap_m);
  return { from_m, to_m: from_m + gap_m };
}

/** The campaign with a stretch of all channels set aside. */
function without(campaign: Campaign, { from_m, to_m }: Interval): Campaign {
  const inside = (x: number) => x >= from_m && x <= to_m;
  return {
    ...campaign,
    causes: [{ kind: "documented", text: "a gap", object: "gap" }],
    passes: campaign.passes.map((pass) => ({
      ...pass,
      setAside: pass.setAside.map((marks) =>
        marks.map((mark, i) => (inside(pass.chainage_m[i]!) ? 1 : mark)),
      ),
    })),
  };
}

/** Of the deepest-seeing quadrature or conductivity channels so many alone. */
function withChannels(slices: DepthSlices, { channels }: Condition): DepthSlices {
  if (channels === undefined) return slices;
  const own = (slices.readings ?? []).filter(({ channel }) => channel.kind !== "inphase");
  return { ...slices, readings: own.slice(-channels) };
}
