import { type ChannelSpec, forwardOf } from "../earth/forward.js";
import type { Slopes } from "../earth/slopes.js";
import { earthOf } from "../ground/columns.js";
import { type Chance, chance } from "../random.js";
import type { Truth } from "../truth.js";
import { type Day, type Steps, VISIT_READINGS } from "./day.js";
import type { Instrument, Walk } from "./instruments.js";
import { type Positions, recordedPositions } from "./positions.js";
import { type ChannelErrors, channelErrors, type ErrorDraw, heightOff } from "./realised.js";
import { probeReadings, type SoilReading } from "./temperature.js";

/** One campaign as it would be written down, with what only its maker knows. */
export interface MadeCampaign {
  /** Such as "2031-10". */
  readonly label: string;
  readonly walks: readonly MadeWalk[];
  readonly checks: readonly MadeCheck[];
  readonly soilTemperature: readonly SoilReading[];
}

export interface MadeWalk {
  readonly name: string;
  readonly channels: readonly ChannelSpec[];
  /** Stated, m. */
  readonly height_m: number;
  /** Times, lines and true chainages of n readings. */
  readonly steps: Steps;
  readonly recorded: Positions;
  /** For each channel, n values in its unit; NaN where the cell is blank. */
  readonly values: readonly Float64Array[];
}

/** One reading at the fixed spot, every channel's value by field. */
export interface MadeCheck {
  readonly time_s: number;
  readonly values: Readonly<Record<string, number>>;
}

export interface CampaignPlan extends ErrorDraw {
  readonly instrument: Instrument;
  readonly day: Day;
  readonly truth: Truth;
  /** Null where the ground is level for ever; of the crest. */
  readonly slopes: Slopes | null;
  readonly length_m: number;
}

export function walkedCampaign(plan: CampaignPlan): MadeCampaign {
  const { day, instrument, errors } = plan;
  const wrong = instrument.walks.map(({ channels }) =>
    channels.map((channel) => channelErrors(channel, plan, { day, noise: instrument.noise })),
  );
  return {
    label: new Date(1000 * day.start_s).toISOString().slice(0, 7),
    walks: instrument.walks.map((walk, w) => walked(plan, { walk, w, wrong: wrong[w]! })),
    checks: checksOf(plan, wrong),
    soilTemperature: probeReadings(day.start_s, errors.temperature_degC),
  };
}

interface WalkToMake {
  readonly walk: Walk;
  /** Its number. */
  readonly w: number;
  readonly wrong: readonly ChannelErrors[];
}

function walked(plan: CampaignPlan, { walk, w, wrong }: WalkToMake): MadeWalk {
  const { day, truth, slopes, instrument, campaign, seed, length_m } = plan;
  const steps = day.walks[w]!;
  const forward = forwardOf(walk.channels);
  const random = chance(seed, `noise/${campaign}/${w}`);
  const off_m = heightOff(w, length_m, plan);
  const values = walk.channels.map(() => new Float64Array(steps.time_s.length));
  for (const [i, chainage_m] of steps.chainage_m.entries()) {
    const line = steps.line[i]!;
    const column = truth.columnAt({ chainage_m, campaign, line });
    const clean = forward(earthOf(column), instrument.height_m + off_m(chainage_m));
    if (slopes !== null && line === "crest") {
      for (const [c, channel] of walk.channels.entries())
        clean[c]! *= slopes.factor(channel, column);
    }
    for (const [c, row] of values.entries()) {
      row[i] =
        spoiled(clean[c]!, steps.time_s[i]!, wrong[c]!) +
        random.normal() * wrong[c]!.noise(clean[c]!);
    }
  }
  blankPart(values, chance(seed, `missing/${campaign}/${w}`), plan.errors.missing);
  const recorded = recordedPositions(steps, w, plan);
  return {
    name: walk.name,
    channels: walk.channels,
    height_m: instrument.height_m,
    steps,
    recorded,
    values,
  };
}

const spoiled = (clean: number, time_s: number, { gain, zero, drift }: ChannelErrors) =>
  gain * clean + zero + drift(time_s);

/** Blanks one stretch of one channel's column. */
function blankPart(values: readonly Float64Array[], random: Chance, share: number): void {
  const row = values[Math.floor(random.uniform() * values.length)]!;
  const count = Math.round(share * row.length);
  const from = Math.floor(random.uniform() * (row.length - count));
  row.fill(Number.NaN, from, from + count);
}

/** Readings at a spot beside the bank, coils at the stated height, all walks' channels one by one. */
function checksOf(plan: CampaignPlan, wrong: readonly (readonly ChannelErrors[])[]): MadeCheck[] {
  const { day, truth, instrument, campaign, seed, errors, length_m } = plan;
  const random = chance(seed, `checks/${campaign}`);
  const spot = truth.columnAt({ chainage_m: 0.37 * length_m, campaign, line: "toe" });
  const clean = instrument.walks.map(({ channels }) =>
    forwardOf(channels)(earthOf(spot), instrument.height_m),
  );
  return day.visits_s.flatMap((start_s) =>
    instrument.walks.flatMap(({ channels }, w) =>
      Array.from({ length: VISIT_READINGS[errors.checks] }, (_, k) => {
        const time_s = start_s + 20 * w + k;
        const values = channels.map((channel, c): [string, number] => {
          const value = spoiled(clean[w]![c]!, time_s, wrong[w]![c]!);
          return [channel.field, value + random.normal() * wrong[w]![c]!.noise(value)];
        });
        return { time_s, values: Object.fromEntries(values) };
      }),
    ),
  );
}
