import type { DepthSlices } from "../depth/depth-slices.js";
import type { Basis, Caution } from "../result/step-account.js";
import type { Change, Changes } from "./changes.js";
import type { CompareOptions } from "./compare-options.js";
import type { Significance } from "./find-significant.js";
import type { SharedGround } from "./shared-ground.js";

export interface ComparisonReport {
  readonly ground: SharedGround;
  readonly value: Changes;
  readonly found: Significance;
  readonly used: CompareOptions;
  /** True where both campaigns were taken to 25 °C. */
  readonly corrected: boolean;
  readonly pair: { readonly earlier: DepthSlices; readonly later: DepthSlices };
}

export const changesBasis: readonly Basis[] = Object.freeze([
  {
    statement: "Conductivities are compared at 25 °C by the soil temperature of depth and date.",
    source: "Sheets & Hendrickx 1995, corrected in Corwin & Lesch 2005; Ma et al. 2011",
  },
  {
    statement: "The share of false discoveries is held over all stations and slices.",
    source: "Benjamini & Hochberg 1995; Benjamini & Yekutieli 2001 (positive dependence)",
  },
  {
    statement: "Level and scatter come from robust statistics of the stations that did not change.",
    source: "Hampel 1974, Journal of the American Statistical Association 69, 383–393",
  },
]);

/** "Two stretches changed from … to …: …", the level and the temperature. */
export function changesSummary({ value, used, corrected }: ComparisonReport): string {
  const { changes, earlier, later } = value;
  if (value.slices.length === 0)
    return `Campaigns ${earlier} and ${later} share no reliable slice.`;
  const places = changes.map(
    (one) => `${one.direction} to ${one.ratio.toFixed(2)} times at ${placeText(one)}`,
  );
  const found =
    changes.length === 0
      ? `No stretch changed from ${earlier} to ${later} beyond the scatter.`
      : `From ${earlier} to ${later} the resistivity ${listText(places)}.`;
  return `${found} ${levelText(value, used)} ${temperatureText(corrected)}`;
}

export const placeText = (one: Change) => `${one.from_m.toFixed(0)}–${one.to_m.toFixed(0)} m`;

export function listText(parts: readonly string[]): string {
  if (parts.length < 2) return parts.join("");
  return `${parts.slice(0, -1).join(", ")} and ${parts[parts.length - 1]}`;
}

function levelText({ level }: Changes, { level: rule }: CompareOptions): string {
  if (rule === "none") return "No level between the campaigns was removed.";
  const percent = level.map((value) => {
    const change = 100 * (10 ** value - 1);
    return `${change < 0 ? "−" : "+"}${Math.abs(change).toFixed(0)} %`;
  });
  return `A level common to the line was removed by slice: ${percent.join(", ")}.`;
}

const temperatureText = (corrected: boolean) =>
  corrected ? "Both were taken to 25 °C." : "Temperature was not corrected.";

export function changesCautions(report: ComparisonReport): readonly Caution[] {
  return cautionTexts(report).map((text) => ({ step: "compareCampaigns", text }));
}

function cautionTexts(report: ComparisonReport): string[] {
  const { ground, value, used, corrected } = report;
  if (value.slices.length === 0) {
    return ["Nothing was compared: no depth slice is reliable in both campaigns."];
  }
  if (!ground.unknown.includes(false)) {
    return ["Nothing was compared: no station has an estimate in both campaigns."];
  }
  const texts = corrected ? [] : [temperatureCaution(report)];
  if (used.level === "majority") {
    texts.push(
      "A change of the whole line is not seen: the level of the stable majority was removed from each slice.",
    );
  }
  if (ground.resliced) {
    texts.push(
      "The campaigns' slices differ; the layers of both were averaged over the earlier one's.",
    );
  }
  if (value.changes.length > 0) {
    texts.push(
      "A ratio is the least of the change: a slice averages changed with unchanged ground, and the estimate leans on its prior.",
    );
  }
  return [...texts, ...scatterCautions(report), ...unknownCautions(value)];
}

function temperatureCaution({ pair }: ComparisonReport): string {
  const lacking = [pair.earlier, pair.later]
    .filter((one) => one.soilTemperature.length === 0)
    .map((one) => one.campaign);
  const why =
    lacking.length > 0
      ? `no soil temperature for ${listText(lacking)}`
      : "the soil temperatures do not reach both dates";
  return `Resistivities were compared at field temperature: ${why}. Conductivity rises about 2 % a degree.`;
}

function scatterCautions({ found, ground }: ComparisonReport): string[] {
  const texts: string[] = [];
  const worst = Math.max(...found.scatter);
  if (worst > 3) {
    texts.push(
      `The differences scatter ${worst.toFixed(1)} times as much as the estimates' own errors allow: ` +
        "the campaigns differ by more than their noise, and weak changes are hidden.",
    );
  }
  if (ground.unknown.filter((unknown) => !unknown).length < 60) {
    texts.push("Few stations (under 60): level and scatter are uncertain, and so is each q.");
  }
  return texts;
}

function unknownCautions({ unknown }: Changes): string[] {
  const length = unknown.reduce((sum, one) => sum + one.to_m - one.from_m, 0);
  if (!(length > 0)) return [];
  return [
    `${length.toFixed(0)} m of the line are unknown, not unchanged: one of the campaigns has no estimate there.`,
  ];
}
