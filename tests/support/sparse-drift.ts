// Seeded days of two walks whose checks are a few single readings, with the drifts of tests/abroad.

import type { DriftCorrected } from "../../lib/drift/drift.js";
import { NORMAL_90 } from "../../lib/numerics/statistics/normal.js";
import type { Campaign, Channel } from "../../lib/survey/survey.js";
import { fieldDay } from "../abroad/field/day.js";
import { type Drift, makeErrors } from "../abroad/field/errors.js";
import { makeInstrument } from "../abroad/field/instruments.js";
import { channelErrors } from "../abroad/field/realised.js";
import { texture } from "../abroad/ground/profiles.js";
import { chance } from "../abroad/random.js";
import { campaignOf, campaignStart_s } from "./campaign.js";

export const SPARSE_KINDS = ["none", "linear", "warm-up", "swing", "step"] as const;

export interface SparsePlan {
  readonly seed: number;
  readonly kind: Drift["kind"];
  /** Visits of one reading a channel: 0 to 5. */
  readonly visits: number;
}

export interface SparseSurvey {
  readonly campaign: Campaign;
  /** A channel's true drift since its first visit (the start, without one), its unit. */
  readonly driftOf: (field: string, time_s: number) => number;
  /** Noise of one reading of a channel at the spot, its unit. */
  readonly noiseOf: (field: string) => number;
}

/** Which of five visits: before, in and after each of two walks. */
const VISITED = [[], [0], [0, 4], [0, 2, 4], [0, 1, 3, 4], [0, 1, 2, 3, 4]];

/** The spot reads as much of the bank's level. */
const SPOT = 1.4;

/** Two walks of 200 to 800 m: 15 minutes to an hour in all. */
export function sparseSurvey({ seed, kind, visits }: SparsePlan): SparseSurvey {
  const random = chance(seed, "sparse");
  const length_m = random.between(200, 800);
  const size_ppm = 10 ** random.between(1, 2.2);
  const errors = { ...makeErrors("zero"), drift: { kind, size_ppm } };
  const { walks, noise, height_m } = makeInstrument("five frequencies HCP, VCP");
  const day = fieldDay({
    ...{ seed, length_m, start_s: campaignStart_s, walks: walks.length, lines: ["crest"] },
    checks: "regular",
  });
  const wrong = new Map(
    walks.flatMap(({ channels }) =>
      channels.map((channel) => {
        const own = channelErrors(channel, { seed, campaign: 0, errors }, { day, noise });
        return [channel.field, own] as const;
      }),
    ),
  );
  const read = (channel: Channel, value: number, time_s: number) => {
    const { zero, drift, noise: sd } = wrong.get(channel.field)!;
    return value + zero + drift(time_s) + sd(value) * random.normal();
  };
  const ground = texture(random, { length_m, correlation_m: 15 });
  const sway = texture(random, { length_m, correlation_m: 2 });
  const at_s = VISITED[visits]!.map((v) => day.visits_s[v]!);
  const campaign = campaignOf({
    passes: walks.map(({ name, channels }, w) => ({
      ...{ resource: name, channels, height_m },
      chainage_m: day.walks[w]!.chainage_m,
      time_s: day.walks[w]!.time_s,
      values: channels.map((channel) =>
        day.walks[w]!.chainage_m.map((x, i) => {
          const value = levelOf(channel) * 10 ** (0.15 * ground(x)) * (1 + 0.008 * sway(x));
          return read(channel, value, day.walks[w]!.time_s[i]!);
        }),
      ),
    })),
    baseChecks: at_s.flatMap((start_s) =>
      walks.map(({ channels }, w) => ({
        time_s: start_s + 20 * w,
        values: Object.fromEntries(
          channels.map((one) => [one.field, read(one, SPOT * levelOf(one), start_s + 20 * w)]),
        ),
      })),
    ),
  });
  const from_s = at_s[0] ?? day.start_s;
  const driftOf = (field: string, time_s: number) => {
    const { drift } = wrong.get(field)!;
    const w = walks.findIndex(({ channels }) => channels.some((one) => one.field === field));
    return drift(time_s) - drift(from_s + 20 * w);
  };
  const noiseOf = (field: string) => {
    const channel = walks.flatMap(({ channels }) => channels).find((one) => one.field === field)!;
    return wrong.get(field)!.noise(SPOT * levelOf(channel));
  };
  return { campaign, driftOf, noiseOf };
}

/** An ordinary bank's response, ppm (in the mean 30 ohm-m, coils 1.8 m apart). */
function levelOf({ kind, frequency_Hz }: Channel): number {
  const quadrature = frequency_Hz / 30;
  return kind === "quadrature" ? quadrature : 0.02 * quadrature * Math.sqrt(frequency_Hz / 1000);
}

/** What a correction left of one channel's drift. */
export interface SparseLeft {
  readonly field: string;
  readonly corrected: boolean;
  /** Root mean square along the walk before and after, channel's unit. */
  readonly before: number;
  readonly after: number;
  /** Share of readings within 1.2816 driftSd. */
  readonly held: number;
  /** Root mean square of driftSd. */
  readonly stated: number;
  /** True noise of one reading at the spot. */
  readonly noise: number;
}

export function sparseLeft(survey: SparseSurvey, value: DriftCorrected): readonly SparseLeft[] {
  return value.passes.flatMap((pass, p) =>
    pass.instrument.channels.map(({ field }, c): SparseLeft => {
      const raw = survey.campaign.passes[p]!.values[c]!;
      const truth = Array.from(pass.time_s, (t) => survey.driftOf(field, t));
      const left = truth.map((one, i) => one - (raw[i]! - pass.values[c]![i]!));
      const sd = pass.driftSd![c]!;
      const held = left.filter((one, i) => Math.abs(one) <= NORMAL_90 * sd[i]!).length;
      const corrected = value.drift.find((one) => one.channel === field)!.model !== "none";
      return {
        ...{ field, corrected, held: held / left.length, noise: survey.noiseOf(field) },
        ...{ before: rms(truth), after: rms(left), stated: rms([...sd]) },
      };
    }),
  );
}

const rms = (values: readonly number[]) =>
  Math.sqrt(values.reduce((sum, one) => sum + one * one, 0) / values.length);
