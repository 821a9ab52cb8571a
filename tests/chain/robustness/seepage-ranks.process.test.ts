// A bank with two lenses of sand, made so that an alternative of placing and of metal each lets the second
// one pass the first, and one of drift moves an end: every alternative is followed to the ranks that the
// owner reads.
import { beforeAll, describe, expect, it } from "vitest";
import type { RobustnessFinding } from "../../../lib/chain/findings.js";
import { interpret } from "../../../lib/chain/interpret.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { decide } from "../../../lib/step/decision.js";
import type {
  BaseCheck,
  Campaign,
  Channel,
  FieldNote,
  Survey,
} from "../../../lib/survey/survey.js";
import { smallSurvey } from "../../support/small-survey.js";
import { walked } from "../../support/walked.js";
import { opened } from "../support/one-campaign.js";

const LENGTH_M = 480;
const FIRST = { from_m: 110, to_m: 160 };
const SECOND = { from_m: 330, to_m: 380 };

/** 1 within a lens, 0 beyond 8 m from its ends. */
function share(x: number, { from_m, to_m }: typeof FIRST): number {
  const beyond_m = Math.max(from_m - x, x - to_m, 0);
  return Math.max(0, 1 - beyond_m / 8);
}

/** Sand from 0.8 m down within the lenses, clay beside and above them; the first is the sandier. */
const groundAt = (x: number) => {
  const sand = Math.max(share(x, FIRST), 0.94 * share(x, SECOND));
  return {
    thickness_m: [0.7, 3],
    conductivity_S_per_m: [1 / 20, 1 / (30 * 6 ** sand), 1 / 40],
  };
};

/** The coils that see deepest drift: their quadrature. */
const drifts = ({ kind, orientation }: Channel) => kind === "quadrature" && orientation === "HCP";
/** Drift at the end of the walk, ppm; the first lens is read last. */
const DRIFT_PPM = 700;
const WALK_S = 800;

/** The campaign walked against chainage, with an instrument that drifts. */
function drifting(campaign: Campaign): Campaign {
  const drift = (time_s: number) => (DRIFT_PPM * (time_s - START_S)) / WALK_S;
  const back = (column: Float64Array) => column.slice().reverse();
  const passes = campaign.passes.map((pass) => {
    const time_s = pass.time_s.map((_, i) => START_S + (WALK_S * i) / pass.count);
    const values = pass.values.map((column, c) =>
      drifts(pass.instrument.channels[c]!)
        ? back(column).map((value, i) => value + drift(time_s[i]!))
        : back(column),
    );
    const [chainage_m, easting_m] = [back(pass.chainage_m), back(pass.easting_m)];
    return { ...pass, time_s, values, chainage_m, easting_m, northing_m: back(pass.northing_m) };
  });
  return { ...campaign, passes, baseChecks: checksOf(campaign, drift) };
}

const START_S = Date.UTC(2031, 9, 14, 8) / 1000;

/** Five visits of three repeats to one spot. */
function checksOf({ passes }: Campaign, drift: (time_s: number) => number): readonly BaseCheck[] {
  const random = seededRandom(5);
  const fields = passes.flatMap(({ instrument }) => instrument.channels);
  return Array.from({ length: 15 }, (_, k) => {
    const time_s = START_S + (WALK_S * Math.floor(k / 3)) / 4 + 5 * (k % 3);
    const values = Object.fromEntries(
      fields.map((channel) => [
        channel.field,
        100 + (drifts(channel) ? drift(time_s) : 0) + 1 * random.normal(),
      ]),
    );
    return { time_s, spot: "gate", values } as unknown as BaseCheck;
  });
}

const wire = {
  kind: "metal",
  object: "wire",
  from_m: FIRST.from_m - 10,
  to_m: FIRST.to_m + 10,
  campaign: null,
  time_s: null,
  offset_m: null,
} as unknown as FieldNote;

function surveyOf(): Survey {
  const walk = walked({ groundAt, length_m: LENGTH_M, noise: 0.5, seed: 72, label: "2031-10" });
  const campaign = { ...drifting(walk), notes: [wire] };
  const incident = { date: "2030-01-05", kind: "wet patch", text: "" };
  return smallSurvey({
    campaigns: [campaign],
    asRead: [campaign],
    fieldNotes: [wire],
    incidents: [{ ...incident, chainage_m: SECOND.from_m - 24 }],
    length_m: LENGTH_M,
  });
}

const because = "a test tries it";
const decisions = [
  decide("scoreSeepage.zoneFrom", 0.1, { because }),
  decide("placeReadings.antennaAhead_m", 0, { because, alternatives: [-18] }),
  decide("correctDrift.model", "auto", { because, alternatives: ["none"] as string[] }),
  decide("maskInterference.maskSilent", false, { because, alternatives: [true] }),
];

let robustness: readonly RobustnessFinding[];
let first: { readonly from_m: number; readonly to_m: number } | undefined;
beforeAll(async () => {
  const { value } = await interpret(opened(surveyOf()), decisions);
  robustness = value.findings.robustness;
  first = value.findings.seepage[0];
}, 120_000);

describe("an alternative is followed to the seepage ranks", () => {
  it("from a first zone that lies on the first lens", () => {
    expect(first!.from_m).toBeLessThan(FIRST.to_m);
    expect(first!.to_m).toBeGreaterThan(FIRST.from_m);
  });

  it.each([decisions[1]!.name, decisions[3]!.name])(
    "of %s, which lets the second lens pass it",
    (name) => {
      const effect = robustness.find(({ decision }) => decision === name)?.effect ?? "";
      const [, from, to] = /First seepage zones: (\d+)–(\d+) m/.exec(effect) ?? [];
      expect(Number(from), effect).toBeLessThan(SECOND.to_m);
      expect(Number(to), effect).toBeGreaterThan(SECOND.from_m);
      expect(Number(from), effect).toBeGreaterThan(FIRST.to_m);
    },
  );

  it("of correctDrift.model, which moves the end of a zone", () => {
    const effect =
      robustness.find(({ decision }) => decision === "correctDrift.model")?.effect ?? "";
    const [, is, was] = /First seepage zones: (.+), instead of (.+)\.$/.exec(effect) ?? [];
    expect(is, effect).toMatch(/^\d+–\d+ m/);
    expect(was, effect).toMatch(/^\d+–\d+ m/);
    expect(is).not.toBe(was);
  });
});
