import { describe, expect, it } from "vitest";
import { factorTo25 } from "../../../lib/earth/temperature.js";
import { renderSvg } from "../../../lib/step/show/render-svg.js";
import { soilTemperature } from "../../../lib/survey/temperature/soil-temperature.js";
import { campaignStart_s } from "../../support/campaign.js";
import { expectClose } from "../../support/expect-close.js";
import { openedDemo } from "../../support/opened-demo.js";
import { smallSurvey } from "../../support/small-survey.js";

const YEAR_S = 365.2425 * 86_400;
/** The damped annual wave of Carslaw & Jaeger 1959, 2.6, with these three numbers. */
const [MEAN, AMPLITUDE, DAMPING] = [10, 8, 2.2];
const wave = (depth_m: number, time_s: number) =>
  MEAN +
  AMPLITUDE *
    Math.exp(-depth_m / DAMPING) *
    Math.cos((2 * Math.PI * (time_s - campaignStart_s)) / YEAR_S - depth_m / DAMPING);

const year = Array.from({ length: 12 }, (_, month) =>
  [0.2, 0.5, 1, 2, 3].map((depth_m) => {
    const time_s = campaignStart_s + ((month - 6) * YEAR_S) / 12;
    return { time_s, depth_m, temperature_degC: wave(depth_m, time_s) };
  }),
).flat();

describe("soilTemperature", () => {
  it("recovers an annual wave and gives temperature and factor by depth", async () => {
    const { value, figures, cautions } = soilTemperature(smallSurvey({ soilTemperature: year }));
    // Without noise the damping is found to 0.1 % by search, the rest is linear.
    expectClose(value.wave!.mean_degC, MEAN, { absolute: 0.02 });
    expectClose(value.wave!.amplitude_degC, AMPLITUDE, { absolute: 0.02 });
    expectClose(value.wave!.damping_m, DAMPING, { relative: 0.005 });
    const [campaign] = value.campaigns;
    for (const [k, depth_m] of value.depths_m.entries()) {
      const truth = wave(depth_m, campaign!.time_s);
      expectClose(campaign!.temperature_degC[k]!, truth, { absolute: 0.05 });
      expectClose(campaign!.factorTo25[k]!, factorTo25(truth), { absolute: 0.003 });
    }
    expect(figures.map(({ id }) => id)).toEqual([
      "soil-temperature-season",
      "soil-temperature-depth",
    ]);
    for (const { spec } of figures) expect(await renderSvg(spec)).toContain("Soil temperature");
    expect(cautions.map(({ text }) => text)).toEqual([
      "Below 3 m no temperature was measured; there it is extrapolated.",
    ]);
  });

  it("says so where nothing was measured near the readings, and draws nothing", () => {
    for (const soil of [
      [],
      year.map((row) => ({ ...row, time_s: row.time_s - 3 * YEAR_S })).slice(0, 5),
    ]) {
      const { summary, figures, cautions, value } = soilTemperature(
        smallSurvey({ soilTemperature: soil }),
      );
      expect(summary).toContain("No soil temperature is near the readings");
      expect(figures).toEqual([]);
      expect(cautions[0]!.text).toContain("no soil temperature within reach of its date");
      expect(value.campaigns[0]!.method).toBe("none");
    }
  });

  it("shows what the season alone does to the demo's conductivities", async () => {
    const { value, figures, summary } = soilTemperature(await openedDemo());
    expect(value.campaigns.map(({ method }) => method)).toEqual(["annual wave", "annual wave"]);
    expect(figures[1]!.title).toMatch(
      /^The season alone changes conductivity by up to 2\d % between/,
    );
    expect(summary).toMatch(/At 1 m depth: 2031-10 14\.1 °C .* 2032-03 5\.8 °C/);
  });
});
