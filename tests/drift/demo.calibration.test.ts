import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { correctDrift } from "../../lib/drift/correct-drift.js";
import { openSurvey } from "../../lib/place/open-survey.js";
import { expectClose } from "../support/expect-close.js";

interface DriftTruth {
  readonly campaign: string;
  readonly channel: string;
  readonly perHour: number;
  readonly hours: number;
  /** Standard deviation of one reading at the base spot, ppm. */
  readonly readingSd: number;
}

const truth = JSON.parse(readFileSync("data-demo/sedgeholm-truth/truth.json", "utf8")) as {
  readonly drift: readonly DriftTruth[];
};

it("finds the demo's drift within 15 % where it exceeds the noise, and battery changes", async () => {
  const survey = await openSurvey("data-demo/sedgeholm");
  const drift = survey.value.campaigns.flatMap((one) => correctDrift(one).value.drift);
  // The bar of the demo: 15 % of the truth where the drift over the day exceeds one reading's
  // noise.
  const strong = truth.drift.filter((one) => Math.abs(one.perHour) * one.hours > one.readingSd);
  expect(strong.length).toBeGreaterThan(30);
  for (const { campaign, channel, perHour } of strong) {
    const found = drift.find((one) => one.campaign === campaign && one.channel === channel)!;
    expectClose(found.perHour, perHour, { relative: 0.15 });
  }
  for (const { steps } of drift) expect(steps).toHaveLength(1);
});
