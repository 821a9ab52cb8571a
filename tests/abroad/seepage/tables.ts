import { scoreSeepage } from "../../../lib/seepage/score-seepage.js";
import type { Seepage } from "../lib.js";
import { heldGradients, rankCorrelations } from "./gradients.js";
import { jointWeights } from "./joint-weights.js";
import { type JudgedBank, judged, type WorkedBank } from "./judged-bank.js";
import { areaUnderCurve, brierScore, deviation, forecastsOf, reliability } from "./scores.js";
import { withSomeEvidence } from "./some-evidence.js";

/** What the score comes to on these banks, as tables in Markdown. */
export function seepageTables(banks: readonly WorkedBank[]): string {
  const all = banks.map((bank) => judged(bank));
  return [
    ranking(all),
    pieces(all),
    diagram(all),
    zones(all, banks),
    someEvidence(banks),
    gradients(banks, all),
    weights(all),
  ].join("\n\n");
}

type ScoreOf = (seepage: Seepage) => Float64Array;

const area = (scoreOf?: ScoreOf) => (some: readonly JudgedBank[]) =>
  areaUnderCurve(forecastsOf(some, scoreOf));

function ranking(all: readonly JudgedBank[]): string {
  const forecasts = forecastsOf(all);
  const weak = forecasts.filter(({ isWeak }) => isWeak).length / forecasts.length;
  const brier = (some: readonly JudgedBank[]) => brierScore(forecastsOf(some));
  return (
    `${forecasts.length} cells, ${(100 * weak).toFixed(1)} % of them weak. Area under the curve ` +
    `${withError(all, area(), 3)}, Brier score ${withError(all, brier, 4)} ` +
    `(${(weak * (1 - weak)).toFixed(4)} for knowing the share of weak cells).`
  );
}

const withError = (
  all: readonly JudgedBank[],
  of: (some: readonly JudgedBank[]) => number,
  digits: number,
) => `${of(all).toFixed(digits)} ± ${deviation(all, of).toFixed(digits)}`;

/** Each piece alone, and all without it; alone on the banks that know it, beside all on the same. */
function pieces(all: readonly JudgedBank[]): string {
  const names = all[0]?.seepage.pieces.map(({ name }) => name) ?? [];
  const head = "piece | banks that know it | alone, all banks | alone, these | all pieces, these";
  return [
    `| ${head} | all but it, these | it adds |`,
    "|---|---|---|---|---|---|---|",
    ...names.map((name, p) => `| ${name} | ${added(all, p)} |`),
  ].join("\n");
}

function added(all: readonly JudgedBank[], p: number): string {
  const alone: ScoreOf = ({ pieces: own }) => own[p]!.weight;
  const without: ScoreOf = ({ score, pieces: own }) =>
    score.map((sum, i) => sum - own[p]!.weight[i]!);
  const known = all.filter(({ seepage }) =>
    seepage.pieces[p]!.value.some((value) => !Number.isNaN(value)),
  );
  const areas = [area(alone)(all), area(alone)(known), area()(known), area(without)(known)];
  const adds = (some: readonly JudgedBank[]) => area()(some) - area(without)(some);
  const figures = areas.map((one) => one.toFixed(3));
  return [known.length, ...figures, withError(known, adds, 3)].join(" | ");
}

const EDGES = [0, 0.01, 0.03, 0.1, 0.2, 0.4, 0.6, 0.8, 1.01];

function diagram(all: readonly JudgedBank[]): string {
  const off = (from: number, to: number) => (some: readonly JudgedBank[]) => {
    const [one] = reliability(forecastsOf(some), [from, to]);
    return one!.seen - one!.said;
  };
  const rows = reliability(forecastsOf(all), EDGES).map(({ cells, said, seen }, k) => {
    const error = deviation(all, off(EDGES[k]!, EDGES[k + 1]!));
    const range = `${EDGES[k]} to ${Math.min(1, EDGES[k + 1]!)}`;
    const figures = [said, seen, error].map((one) => one.toFixed(3));
    return `| ${[range, cells, ...figures].join(" | ")} |`;
  });
  const whole = withError(all, off(0, 1.01), 4);
  return [
    "| probability | cells | said | seen | error of seen less said |",
    "|---|---|---|---|---|",
    ...rows,
    "",
    `All cells, seen less said: ${whole}.`,
  ].join("\n");
}

function zones(all: readonly JudgedBank[], banks: readonly WorkedBank[]): string {
  const sound = all.filter(({ isSound }) => isSound);
  const named = sound.filter(({ falseZones }) => falseZones > 0).length;
  const places = banks.flatMap(({ plan }, b) =>
    plan.weak.map((place) => ({ ...place, zones: all[b]!.seepage.zones })),
  );
  const found = places.filter((place) =>
    place.zones.some((zone) => zone.from_m <= place.to_m && zone.to_m >= place.from_m),
  );
  const share = ([from, to]: readonly [number, number]) => {
    const here = (some: typeof places) =>
      some.filter(({ from_m, to_m }) => to_m - from_m >= from && to_m - from_m < to).length;
    return `${here(found)} of ${here(places)} of ${from} to ${to} m`;
  };
  const bySize = (
    [
      [15, 30],
      [30, 45],
      [45, 60],
    ] as const
  )
    .map(share)
    .join(", ");
  const beside = all.filter(({ isSound }) => !isSound);
  return (
    `Banks without a weak place: ${sound.length}, with a zone: ${named}. Weak places met by a ` +
    `zone: ${found.length} of ${places.length} (${bySize}). Zones on none, in banks that have ` +
    `one: ${beside.reduce((sum, { falseZones }) => sum + falseZones, 0)}.`
  );
}

/** Every piece of evidence left out or not by the toss of a coin, three times. */
function someEvidence(banks: readonly WorkedBank[]): string {
  const fewer = [5, 6, 7].flatMap((seed) => withSomeEvidence(banks, seed));
  const unsafe = fewer.filter(({ evidence }) =>
    /\b(safe|NaN|undefined)\b/.test(scoreSeepage(evidence).summary),
  ).length;
  const all = fewer.map((bank) => judged(bank));
  const forecasts = forecastsOf(all);
  const low = reliability(forecasts, [0, 0.01, 0.02]);
  const told = low.map(
    ({ cells, said, seen }) =>
      `${cells} cells at ${said.toFixed(4)}, of which ${seen.toFixed(4)} weak`,
  );
  const least = Math.min(...forecasts.map(({ probability }) => probability));
  return (
    `Evidence left out at random: area ${area()(all).toFixed(3)}, least probability ` +
    `${least.toFixed(4)}; ${told.join("; ")}; ` +
    `${unsafe} summaries with a word that must not be there.`
  );
}

function gradients(banks: readonly WorkedBank[], all: readonly JudgedBank[]): string {
  const found = rankCorrelations(banks, all);
  const mean = found.reduce((sum, one) => sum + one, 0) / found.length;
  const held = heldGradients(banks, all);
  const sum = (of: (one: (typeof held)[number]) => number) =>
    held.reduce((total, one) => total + of(one), 0);
  const over = found.filter((one) => one >= 0.7).length;
  return (
    `Exit gradients: told apart in ${found.length} of ${banks.length} banks, mean rank ` +
    `correlation ${mean.toFixed(3)}, least ${Math.min(...found).toFixed(2)}, at least 0.7 in ` +
    `${over}; the others say that the data do not tell. 80 % intervals hold ` +
    `${sum((one) => one.held)} of ${sum((one) => one.of)}.`
  );
}

function weights(all: readonly JudgedBank[]): string {
  const rows = [...jointWeights(all)].map(([name, { present, absent }]) => {
    const used = all[0]!.seepage.weights[name];
    const here = `${present.toFixed(2)}, ${absent.toFixed(2)}`;
    return `| ${name} | ${here} | ${used.present}, ${used.absent} |`;
  });
  const head = "| piece | weights by these banks | as declared |";
  return [head, "|---|---|---|", ...rows].join("\n");
}
