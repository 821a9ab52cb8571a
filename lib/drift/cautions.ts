import { countText } from "../step/show/html.js";
import { reachOf } from "./apply-drift.js";
import type { DriftCorrected } from "./drift.js";
import type { CampaignFits } from "./models/fit-campaign.js";

/** What a user should know of the drift that stays, and of checks that were left out. */
export function driftCautions(value: DriftCorrected, fits: CampaignFits): readonly string[] {
  return [
    ...noneTexts(value),
    ...crossingTexts(value),
    ...zeroCautions(value),
    ...reachTexts(value, fits),
    ...checkTexts(value, fits),
  ];
}

function noneTexts({ label, drift }: DriftCorrected): readonly string[] {
  const worth = [
    "no base checks",
    "only one base check",
    "too few repeats to tell drift from noise",
  ];
  return worth.flatMap((reason) => {
    const fields = drift.filter((one) => one.reason === reason).map(({ channel }) => channel);
    if (fields.length === 0) return [];
    const names = fields.length > 6 ? `${fields.length} channels` : fields.join(", ");
    return [`Campaign ${label}, ${names}: ${reason}, so any drift is still in the values.`];
  });
}

/** A misfit from which the ground under the height test is not what was fitted. */
const ILL_FITTED = 2;

function zeroCautions({ label, zeroLevel }: DriftCorrected): readonly string[] {
  if (zeroLevel === undefined || !(zeroLevel.misfit > ILL_FITTED)) return [];
  return [
    `Campaign ${label}: the height test is fitted ${zeroLevel.misfit.toFixed(1)} times worse than the noise; there may be metal near the spot, or more than two layers.`,
  ];
}

/** Crossings stand in for checks; what they cannot tell is said. */
function crossingTexts({ label, drift }: DriftCorrected): readonly string[] {
  const told = drift.filter(({ from }) => from !== "nothing" && from !== "base checks");
  if (told.length === 0) return [];
  const pairs = told.reduce((most, one) => Math.max(most, one.pairs), 0);
  const alone = told.filter(({ from }) => from === "crossings").length;
  const checks = alone === told.length ? "without base checks" : "with few base checks";
  return [
    `Campaign ${label}: ${countText(told.length, "channel")} ${checks}; the drift was told from readings at the same place at different times (up to ${countText(pairs, "pair")} a channel). A change that comes and goes between them, and the level itself, are not seen by it.`,
  ];
}

function reachTexts({ label, passes, drift }: DriftCorrected, fits: CampaignFits): string[] {
  const done = drift.filter(({ model }) => model !== "none").map(({ channel }) => channel);
  const curves = new Map(done.map((field) => [field, fits.get(field)!.chosen!.curve]));
  return passes.flatMap((pass) => {
    const { outside, timeless } = reachOf(pass, curves);
    const where = `Campaign ${label}, ${pass.file}:`;
    const out = `${where} ${outside} readings lie before the first or after the last base check; their drift was taken as that of the nearest check.`;
    const none = `${where} ${timeless} readings have no time; their drift was not taken off.`;
    return [...(outside > 0 ? [out] : []), ...(timeless > 0 ? [none] : [])];
  });
}

function checkTexts({ label, baseChecks }: DriftCorrected, fits: CampaignFits): string[] {
  const texts: string[] = [];
  const bad = [...fits.values()].flatMap(({ groups }) => groups.map((group) => group.bad));
  const count = bad.reduce((sum, n) => sum + n, 0);
  if (count > 0) {
    texts.push(
      `Campaign ${label}: ${countText(count, "base-check value")} left out as bad repeats.`,
    );
  }
  const spots = new Set(baseChecks.map(({ spot }) => spot));
  if (spots.size > 1) {
    const names = [...spots].join(", ");
    texts.push(
      `Campaign ${label}: base checks at several spots (${names}); each channel uses the one with most.`,
    );
  }
  return texts;
}
