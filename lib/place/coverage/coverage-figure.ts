import {
  type StretchesPanel,
  type Strip,
  type StripPanel,
  stripSpec,
} from "../../figures/strip/strip.js";
import { classColours, greys } from "../../figures/theme.js";
import { itemAt } from "../../numerics/arrays.js";
import type { Figure } from "../../step/figure.js";
import type { PassCoverage } from "./coverage.js";
import { emptyOf, type Range, totalLength_m } from "./covered-stretches.js";

const GROUPS = { measured: "readings", bridged: "position bridged", none: "no readings" } as const;
const COLOURS = {
  [GROUPS.measured]: "#9ec3dd",
  [GROUPS.bridged]: "#c77700",
  [GROUPS.none]: greys.band,
};

/** Where each pass has readings along the bank, how dense they are and how fast it was walked. */
export function coverageFigure(coverage: readonly PassCoverage[]): Figure {
  const title = coverageTitle(coverage);
  const strip: Strip = {
    title,
    subtitle:
      "Blue: readings in use. Orange: their position is bridged by time. Grey: no readings in use.",
    panels: [
      ...coverage.map(coveragePanel),
      linesPanel(coverage, "Metres between readings (m)", ({ profile }) => profile.spacing_m),
      linesPanel(coverage, "Walking speed (m/s)", ({ profile }) => profile.speed_m_per_s),
    ].filter((panel) => panel !== null),
  };
  const caption =
    "Bars: where each pass has readings in use, in stretches of 5 m; grey where it has none, the " +
    "other colour where a gap in the positions was bridged by time. Curves: means over short " +
    "stretches, pauses of more than a minute left out; a curve stops where there are no readings.";
  return { id: "coverage", title, caption, spec: stripSpec(strip) };
}

function coveragePanel(pass: PassCoverage): StretchesPanel {
  return {
    kind: "stretches",
    label: `${pass.campaign} · ${pass.file}`,
    stretches: pass.stretches.map(({ from_m, to_m, kind }) => ({
      from_m,
      to_m,
      text: GROUPS[kind],
      group: GROUPS[kind],
    })),
    colours: COLOURS,
    legend: "",
  };
}

function linesPanel(
  coverage: readonly PassCoverage[],
  label: string,
  of: (pass: PassCoverage) => readonly number[],
): StripPanel | null {
  const series = coverage
    .map((pass, k) => ({
      name: pass.file.replace(/\.csv$/, ""),
      x: pass.profile.chainage_m,
      y: of(pass),
      colour: itemAt(classColours, k % classColours.length),
    }))
    .filter(({ y }) => y.some(Number.isFinite));
  if (series.length === 0) return null;
  const highest = Math.max(...series.flatMap(({ y }) => y.filter(Number.isFinite)));
  return {
    kind: "lines",
    label,
    scale: "linear",
    series,
    legend: "Pass",
    domain: [0, 1.1 * highest],
  };
}

/** The finding: what no pass of a campaign covers. */
function coverageTitle(coverage: readonly PassCoverage[]): string {
  const campaigns = [...new Set(coverage.map(({ campaign }) => campaign))];
  const isWhole = coverage.every(({ stretches }) => emptyOf(stretches).length === 0);
  if (campaigns.length > 1 && isWhole) return "Every walk has readings all along the bank";
  const parts = campaigns.map((campaign) => {
    const own = coverage.filter((pass) => pass.campaign === campaign);
    const gaps = uncovered(own);
    const [worst] = gaps.toSorted((a, b) => b.to_m - b.from_m - (a.to_m - a.from_m));
    if (worst === undefined) {
      return `${campaign} has readings all along the bank${missedByOne(own)}`;
    }
    const total = `${whole(totalLength_m(gaps))} m`;
    const where = `${whole(worst.from_m)}–${whole(worst.to_m)} m`;
    return `${campaign} leaves ${total} without readings, the longest stretch at ${where}`;
  });
  return parts.join("; ");
}

/** What single passes leave out of a bank that they cover together. */
function missedByOne(passes: readonly PassCoverage[]): string {
  const most_m = Math.max(0, ...passes.map((pass) => totalLength_m(emptyOf(pass.stretches))));
  return most_m === 0 ? "" : `, though one pass leaves out ${whole(most_m)} m`;
}

const whole = (value: number) => Math.round(value).toLocaleString("en");

/** Stretches that none of the passes covers. */
function uncovered(passes: readonly PassCoverage[]): readonly Range[] {
  const [first = [], ...others] = passes.map(({ stretches }) => emptyOf(stretches));
  return others.reduce<readonly Range[]>(
    (left, own) =>
      left.flatMap(({ from_m, to_m }) =>
        own
          .map((gap) => ({ from_m: Math.max(from_m, gap.from_m), to_m: Math.min(to_m, gap.to_m) }))
          .filter((gap) => gap.to_m > gap.from_m),
      ),
    first,
  );
}
