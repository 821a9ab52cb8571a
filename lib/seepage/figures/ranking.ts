import { type RankedZone, rankingSpec } from "../../figures/ranking.js";
import { type StripPanel, stripSpec } from "../../figures/strip/strip.js";
import { bandColours } from "../../figures/theme.js";
import type { Figure } from "../../step/figure.js";
import { probabilityOf } from "../bands.js";
import type { Bands } from "../options.js";
import type { Seepage, SeepageZone } from "../seepage.js";
import { zoneName } from "../words.js";

/** The probability along the line, and the zones by rank. */
export function lineFigure(value: Seepage, bands: Bands): Figure {
  const first = value.zones[0];
  const title =
    first === undefined
      ? "Nothing stands out here: no stretch gathers enough evidence to be named"
      : `Evidence for seepage is strongest from ${first.from_m.toFixed(0)} to ` +
        `${first.to_m.toFixed(0)} m`;
  return {
    id: "seepage-line",
    title,
    caption:
      "Probability of a seepage path under the weights of evidence, a ranking aid and no " +
      `failure probability. Low under ${bands.moderate}, high from ${bands.high}. The bars below ` +
      "are the ranked zones.",
    spec: stripSpec({ title, panels: [probabilityPanel(value), zonesPanel(value.zones)] }),
  };
}

function probabilityPanel({ chainage_m, score }: Seepage): StripPanel {
  return {
    kind: "lines",
    label: "Probability under the weights",
    scale: "linear",
    domain: [0, 1],
    height_px: 130,
    legend: "",
    series: [{ name: "probability", x: chainage_m, y: score.map(probabilityOf) }],
  };
}

function zonesPanel(zones: readonly SeepageZone[]): StripPanel {
  return {
    kind: "stretches",
    label: "Zones by rank",
    legend: "Band",
    colours: bandColours,
    stretches: zones.map((zone) => ({
      from_m: zone.from_m,
      to_m: zone.to_m,
      text: String(zone.rank),
      group: zone.band,
      detail: zoneName(zone),
    })),
  };
}

/** What each zone's score is made of. */
export function rankingFigure(value: Seepage): Figure {
  const shown = value.zones.slice(0, 8);
  const title = rankingTitle(shown);
  return {
    id: "seepage-ranking",
    title,
    caption:
      "Each bar adds up the weights of the named evidence, in natural log-odds; the starting odds " +
      "are the same for all zones. To the right speaks for a seepage path, to the left against it.",
    spec: rankingSpec({
      title,
      scoreLabel: "Weight of evidence (log-odds)",
      zones: shown.map(rankedZone),
    }),
  };
}

function rankingTitle([first, ...others]: readonly SeepageZone[]): string {
  if (first === undefined) return "Nothing stands out here";
  const strongest = first.evidence.reduce((most, one) => (one.weight > most.weight ? one : most));
  const what = `\u201c${strongest.name}\u201d speaks loudest for zone 1`;
  if (others.length === 0) return `${what}, the only one`;
  const [, worst] = first.rankRange;
  return worst === 1
    ? `${what}, which stays first within the weights' ranges`
    : `${what}, which may rank ${worst} within the weights' ranges`;
}

function rankedZone(zone: SeepageZone): RankedZone {
  const contributions = zone.evidence.map(({ name, weight, statement }) => {
    return { name, value: weight, text: statement };
  });
  return {
    name: zoneName(zone),
    score: contributions.reduce((sum, piece) => sum + piece.value, 0),
    band: zone.band,
    probability: zone.probability,
    contributions,
  };
}
