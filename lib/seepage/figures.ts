import { type RankedZone, rankingSpec } from "../figures/ranking.js";
import { type StripPanel, stripSpec } from "../figures/strip/strip.js";
import type { Figure } from "../step/figure.js";
import type { Bands } from "./options.js";
import type { Seepage, SeepageZone } from "./seepage.js";

export function seepageFigures(value: Seepage, bands: Bands): readonly Figure[] {
  return value.zones.length === 0
    ? [lineFigure(value, bands)]
    : [lineFigure(value, bands), rankingFigure(value)];
}

function lineFigure(value: Seepage, bands: Bands): Figure {
  const first = value.zones[0];
  const title =
    first === undefined
      ? "No stretch gathers enough evidence to be named a seepage zone"
      : `Evidence for seepage is strongest from ${first.from_m.toFixed(0)} to ` +
        `${first.to_m.toFixed(0)} m`;
  return {
    id: "seepage-line",
    title,
    caption:
      "Probability of a seepage path under the declared weights of evidence, a ranking aid and no " +
      `failure probability. Low under ${bands.moderate}, high from ${bands.high}. The bars below ` +
      "are the ranked zones.",
    spec: stripSpec({ title, panels: [probabilityPanel(value), zonesPanel(value.zones)] }),
  };
}

function probabilityPanel({ chainage_m, score }: Seepage): StripPanel {
  return {
    kind: "lines",
    label: "Probability under the declared weights",
    scale: "linear",
    domain: [0, 1],
    height_px: 130,
    legend: "",
    series: [{ name: "probability", x: chainage_m, y: score.map((s) => 1 / (1 + Math.exp(-s))) }],
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

/** Pale to dark in one hue: the band's order reads without the legend and in grey print. */
const bandColours = Object.freeze({ low: "#b9d3e8", moderate: "#6b9fc8", high: "#1f5a8c" });

function rankingFigure(value: Seepage): Figure {
  const shown = value.zones.slice(0, 8);
  const title =
    value.zones.length === 1
      ? "What speaks for the one zone, and what against"
      : `What speaks for each of the ${shown.length} first zones, and what against`;
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

function zoneName(zone: SeepageZone): string {
  return `${zone.rank} · ${zone.from_m.toFixed(0)}–${zone.to_m.toFixed(0)} m`;
}
