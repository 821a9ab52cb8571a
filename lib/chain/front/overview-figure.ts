import { classColoursOf } from "../../blocks/classes/class-colours.js";
import { type Stretch, type StretchesPanel, stripSpec } from "../../figures/strip/strip.js";
import { bandColours, directionColours, figureWidth_px, greys } from "../../figures/theme.js";
import type { Figure } from "../../step/figure.js";
import type { BlockFinding, BoreholeFinding, Findings } from "../findings.js";
import { campaignsOf, isUnexplained, ofMainLine, placesOf } from "./places.js";
import { headline } from "./summary.js";

/**
 * The whole bank on one strip, a row for each question of its owner: make, metal, change, seepage
 * and holes. Where several lines were walked, the main one; the others have figures of their own.
 */
export function overviewFigure(findings: Findings): Figure {
  const title = headline(findings);
  const { length_m } = findings.survey;
  const panels = [
    blocksPanel(ofMainLine(findings.blocks)),
    metalPanel(findings),
    changesPanel(findings),
    seepagePanel(findings),
    holesPanel(findings.boreholes, length_m),
  ];
  return {
    id: "bank-overview",
    leads: true,
    title,
    caption:
      "The bank from end to end, one row a question. Like letters are like ground, A the most " +
      "conductive; a letter names no soil. An empty row found nothing at the sizes and depths " +
      "that its section states, or had no data; the row's heading says which.",
    spec: stripSpec({ title, domain_m: [0, length_m], panels }),
  };
}

const row = (label: string, empty: string, panel: Omit<StretchesPanel, "kind" | "label">) => ({
  kind: "stretches" as const,
  label: panel.stretches.length === 0 ? `${label}: ${empty}` : label,
  ...panel,
  ...(panel.stretches.length === 0 && { legend: "" }),
});

function blocksPanel(blocks: readonly BlockFinding[]): StretchesPanel {
  return row("Make of the bank: blocks of like ground", "not cut", {
    legend: "Class of ground",
    colours: classColoursOf(blocks),
    stretches: blocks.map((block) => ({
      ...{ from_m: block.from_m, to_m: block.to_m, group: block.class },
      text: block.class,
      detail: block.id,
    })),
  });
}

const NOTED = "noted in the field";
const UNEXPLAINED = "explained by no note";

function metalPanel({ setAside, survey }: Findings): StretchesPanel {
  const places = placesOf(ofMainLine(setAside));
  const stretches = places.map((place) => ({
    ...atLeastSeen(place, survey.length_m),
    text: place.stretches[0].object,
    group: isUnexplained(place) ? UNEXPLAINED : NOTED,
    detail: `set aside in ${campaignsOf(place).join(", ")}`,
  }));
  const colours = { [NOTED]: greys.rule, [UNEXPLAINED]: greys.text };
  const label = "Metal and structures: readings set aside";
  return row(label, "none", { legend: "Object", colours, stretches });
}

function changesPanel({ changes, survey }: Findings): StretchesPanel {
  const stretches = ofMainLine(changes).map((change) => ({
    ...atLeastSeen(change, survey.length_m),
    text: change.direction,
    group: `resistivity ${change.direction}`,
    detail: `${change.earlier} to ${change.later}, times ${change.ratio.toFixed(2)}`,
  }));
  const { fell, rose } = directionColours;
  return row(
    "Change between campaigns",
    survey.campaigns.length > 1 ? "none found" : "one campaign, none to compare with",
    {
      legend: "Change",
      colours: { "resistivity fell": fell, "resistivity rose": rose },
      stretches,
    },
  );
}

function seepagePanel({ seepage, survey }: Findings): StretchesPanel {
  return row("Evidence for seepage, by rank", "no stretch stands out", {
    legend: "Band",
    colours: bandColours,
    stretches: seepage.map((zone) => ({
      ...atLeastSeen(zone, survey.length_m),
      text: String(zone.rank),
      group: zone.band,
      detail: `probability ${zone.probability.toFixed(2)} under the declared weights`,
    })),
  });
}

/** Half the width of a hole's flag, px: room for its name. */
const FLAG_PX = 13;

function holesPanel(holes: readonly BoreholeFinding[], length_m: number): StretchesPanel {
  const half_m = (FLAG_PX * length_m) / figureWidth_px;
  return row("Boreholes proposed", "none", {
    legend: "",
    colours: { hole: greys.text },
    stretches: holes.map(({ id, chainage_m, depth_m, purpose }) => ({
      ...{ from_m: chainage_m - half_m, to_m: chainage_m + half_m, group: "hole", text: id },
      detail: `at ${chainage_m.toFixed(0)} m, ${depth_m.toFixed(1)} m deep: ${purpose}`,
    })),
  });
}

/** Narrower stretches are drawn this wide about their middle, px. */
const LEAST_PX = 3;

function atLeastSeen(
  { from_m, to_m }: Pick<Stretch, "from_m" | "to_m">,
  length_m: number,
): Pick<Stretch, "from_m" | "to_m"> {
  const lacking_m = (LEAST_PX * length_m) / figureWidth_px - (to_m - from_m);
  return lacking_m > 0
    ? { from_m: from_m - lacking_m / 2, to_m: to_m + lacking_m / 2 }
    : { from_m, to_m };
}
