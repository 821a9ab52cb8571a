import { countText } from "../step/show/html.js";
import { reachOf } from "./apply-drift.js";
import type { DriftCorrected } from "./drift.js";
import type { RemovedDrift } from "./remove-drift.js";
import { toldSpells } from "./untold-drift.js";

/** What a user should know of the drift that stays, and of checks that were left out. */
export function driftCautions(removed: RemovedDrift): readonly string[] {
  const { value } = removed;
  return [
    ...noneTexts(value),
    ...fewTexts(removed),
    ...spellTexts(removed),
    ...crossoverTexts(value),
    ...zeroTexts(value),
    ...reachTexts(removed),
    ...checkTexts(removed),
  ];
}

function noneTexts({ label, drift }: DriftCorrected): readonly string[] {
  const reasons = [
    "no base checks",
    "only one base check",
    "too few repeats to tell drift from noise",
  ];
  return reasons.flatMap((reason) => {
    const fields = drift.filter((one) => one.reason === reason).map(({ channel }) => channel);
    if (fields.length === 0) return [];
    const names = fields.length > 6 ? `${fields.length} channels` : fields.join(", ");
    return [
      `Campaign ${label}, ${names}: ${reason}, so any drift is still in the values. ${DECLARED}`,
    ];
  });
}

const DECLARED =
  "Its size is a declared one (option `unseenDrift`), and is handed on as their uncertainty.";

/** With no more visits than this a drift that bends leaves no mark. */
const FEW_VISITS = 4;

/** What the band of few visits does not cover: shares seen over seeded surveys, tests/calibration.md. */
function fewTexts({ value, fits }: RemovedDrift): readonly string[] {
  const checked = [...fits.values()].filter(({ estimate }) => estimate.from === "base checks");
  const most = Math.max(0, ...checked.map(({ visits }) => visits.length));
  if (most < 2 || most > FEW_VISITS) return [];
  return [
    `Campaign ${value.label}: ${most} base checks cannot show a warming up within minutes of the ` +
      "first or a swing between two of them. The uncertainty of the drift that is left holds over " +
      "drifts of all kinds together; of these two kinds its 80 % band holds 57 to 71 %.",
  ];
}

/** A spell of work without a check shares its zero with no other. */
function spellTexts({ value, spells, fits }: RemovedDrift): readonly string[] {
  const checked = [...fits.values()].filter(({ estimate }) => estimate.from === "base checks");
  const told = checked.map(({ visits }) => toldSpells(visits, spells).length);
  const loose = spells.length - Math.min(spells.length, ...told);
  if (loose === 0) return [];
  const of = countText(spells.length, "time of work", "times of work");
  return [
    `Campaign ${value.label}: ${loose} of ${of} (the instrument off for two hours and more ` +
      `between) without a base check: zero and drift there are unknown. ${DECLARED}`,
  ];
}

/** A misfit from which the ground under the height test is not what was fitted. */
const ILL_FITTED = 2;

function zeroTexts({ label, zeroLevel }: DriftCorrected): readonly string[] {
  if (zeroLevel === undefined || !(zeroLevel.misfit > ILL_FITTED)) return [];
  const times = zeroLevel.misfit.toFixed(1);
  return [
    `Campaign ${label}: the height test is fitted ${times} times worse than the noise; ` +
      "there may be metal near the spot, or more than two layers.",
  ];
}

/** Crossovers stand in for checks; what they cannot determine is stated. */
function crossoverTexts({ label, drift }: DriftCorrected): readonly string[] {
  const by = drift.filter(({ from }) => from !== "nothing" && from !== "base checks");
  if (by.length === 0) return [];
  const pairs = by.reduce((most, one) => Math.max(most, one.pairs), 0);
  const isAlone = by.every(({ from }) => from === "crossings");
  const checks = isAlone ? "without base checks" : "with few base checks";
  return [
    `Campaign ${label}: ${countText(by.length, "channel")} ${checks}; the drift was told from ` +
      `readings at the same place at different times (up to ${countText(pairs, "pair")} a ` +
      "channel). A change that comes and goes between them, and the level itself, are not seen " +
      "by it.",
  ];
}

function reachTexts({ value, judged }: RemovedDrift): readonly string[] {
  return value.passes.flatMap((pass) => {
    const { outside, timeless } = reachOf(pass, judged);
    const where = `Campaign ${value.label}, ${pass.file}:`;
    const out =
      `${where} ${outside} readings lie before the first or after the last base check; their ` +
      "drift was taken as that of the nearest check.";
    const none = `${where} ${timeless} readings have no time; their drift was not taken off.`;
    return [...(outside > 0 ? [out] : []), ...(timeless > 0 ? [none] : [])];
  });
}

function checkTexts({ value, fits }: RemovedDrift): readonly string[] {
  const { label, baseChecks } = value;
  const visits = [...fits.values()].flatMap((fit) => fit.visits);
  const bad = visits.reduce((sum, visit) => sum + visit.bad, 0);
  const left = `Campaign ${label}: ${countText(bad, "base-check value")} left out as bad repeats.`;
  const spots = new Set(baseChecks.map(({ spot }) => spot));
  const several =
    `Campaign ${label}: base checks at several spots (${[...spots].join(", ")}); each channel ` +
    "uses the one with most.";
  return [...(bad > 0 ? [left] : []), ...(spots.size > 1 ? [several] : [])];
}
