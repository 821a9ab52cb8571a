import { gapBands } from "../../depth/data/gap-bands.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import {
  type Cell,
  type Stretch,
  type StripMark,
  type StripPanel,
  stripSpec,
} from "../../figures/strip/strip.js";
import { itemAt, zipped } from "../../numerics/arrays.js";
import type { Figure } from "../../step/figure.js";
import type { Block, Blocks } from "../blocks.js";
import { nearDistance, probabilityNear } from "../boundaries.js";
import { classColoursOf } from "../classes/class-colours.js";
import { countWord } from "../count-word.js";
import { intervalWidth, leastCertain } from "../least-certain.js";
import { ohm } from "../tables.js";

const SUBTITLE = "resistivity by depth at field temperature, pale where uncertain";

/** The slices, under them the blocks, the boundaries with their intervals and their posterior. */
export function blocksFigure(given: DepthSlices, value: Blocks): Figure {
  const { blocks, campaign } = value;
  const title = blocksTitle(blocks);
  const spec = stripSpec({
    title,
    subtitle: `Campaign ${campaign}; ${SUBTITLE}`,
    panels: [
      {
        kind: "cells",
        label: "Resistivity by depth, reliable slices",
        cells: reliableCells(given),
        unit: "ohm-m",
        height_px: 140,
      },
      {
        kind: "stretches",
        label: "Blocks; like letters are like ground, A the most conductive",
        stretches: blocks.map(blockStretch),
        legend: "Class",
        colours: classColoursOf(blocks),
      },
      ...posteriorPanels(given, value),
    ],
    setAside: gapBands(given),
    marks: boundaryMarks(blocks),
  });
  return {
    id: `blocks-${campaign}`,
    title,
    caption:
      "Top: log-mean resistivity of each reliable depth slice along the crest (ohm-m, " +
      "logarithmic colour scale). Then blocks with their class. Then the probability that a " +
      `boundary lies within ${nearText(given)} m of a place; a sharp peak up to 1 is a sure ` +
      "boundary in a known place, a low or broad one is not; and below it what is left to doubt, " +
      "down to 1 in 10,000: the higher the point, the less certain the boundary. Rules are " +
      "boundaries and pale bands around them their 90 % intervals. Grey bands have no estimate.",
    spec,
  };
}

/** "Seven blocks; the boundary at 812 m is the least certain". */
function blocksTitle(blocks: readonly Block[]): string {
  const worst = leastCertain(blocks);
  if (worst === null) return "One block: no boundary stands out from the scatter";
  const count = countWord(blocks.length);
  if (blocks.length === 2) {
    return `Two blocks, parted at ${worst.from_m.toFixed(0)} ${halfText(worst)} m`;
  }
  return `${count} blocks; the boundary at ${worst.from_m.toFixed(0)} m is the least certain`;
}

const halfText = (block: Block) => `± ${(intervalWidth(block) / 2).toFixed(0)}`;

function reliableCells(given: DepthSlices): Cell[] {
  const half = given.spacing_m / 2;
  const columns = zipped(given.log10Resistivity, given.sd);
  return zipped(given.slices, columns).flatMap(([{ top_m, base_m, reliable }, [column, sd]]) =>
    reliable
      ? Array.from(given.chainage_m, (x, i) => ({
          from_m: x - half,
          to_m: x + half,
          top_m,
          base_m,
          value: 10 ** itemAt(column, i),
          confidence: confidence(itemAt(sd, i)),
        }))
      : [],
  );
}

/** 1 up to a standard deviation of 0.05 decades, falling to 0 at 0.35. */
const confidence = (sd: number) => Math.min(1, Math.max(0, 1 - (sd - 0.05) / 0.3));

function blockStretch(block: Block): Stretch {
  const slices = block.resistivity_ohm_m.map(
    ({ top_m, base_m, median }) =>
      `${ohm(median)} ohm-m at ${top_m.toFixed(1)}–${base_m.toFixed(1)} m`,
  );
  return {
    from_m: block.from_m,
    to_m: block.to_m,
    text: `${block.id} · ${block.class}`,
    group: block.class,
    detail: slices.join("; "),
  };
}

const nearText = (given: DepthSlices) =>
  String(Number(nearDistance(given.spacing_m).toPrecision(2)));

function posteriorPanels(given: DepthSlices, { posterior, blocks }: Blocks): StripPanel[] {
  if (posterior === undefined) return [];
  const { chainage_m, probability } = posterior;
  const stations = { chainage_m, spacing_m: given.spacing_m, breakProbability: probability };
  const y = chainage_m.map((x) => probabilityNear(stations, x));
  return [
    {
      kind: "lines",
      label: `Probability of a boundary within ${nearText(given)} m`,
      scale: "linear",
      series: [{ name: "probability", x: chainage_m, y, lo: y.map(() => 0), hi: y }],
      height_px: 90,
      domain: [0, 1.05],
    },
    ...(blocks.length > 1 ? [doubtPanel(given, blocks)] : []),
  ];
}

/** Lower probabilities are drawn as this one: the difference changes no decision. */
const LEAST_DOUBT = 1e-4;

function doubtPanel(given: DepthSlices, blocks: readonly Block[]): StripPanel {
  const points = blocks.slice(1).map((block) => {
    const doubt = Math.max(LEAST_DOUBT, 1 - (block.fromNearProbability ?? 1));
    const text = `${halfText(block)}; doubt ${Number(doubt.toPrecision(2))}`;
    return { x_m: block.from_m, y: doubt, lo: LEAST_DOUBT / 2, hi: doubt, group: "doubt", text };
  });
  return {
    kind: "points",
    label: `Doubt: probability that no boundary lies within ${nearText(given)} m of the rule`,
    scale: "log",
    points,
    height_px: 90,
    domain: [LEAST_DOUBT / 2, 1],
  };
}

function boundaryMarks(blocks: readonly Block[]): StripMark[] {
  return blocks.slice(1).map((block) => ({
    at_m: block.from_m,
    lo_m: block.fromInterval_m[0],
    hi_m: block.fromInterval_m[1],
    text: `${block.from_m.toFixed(0)} ${halfText(block)} m`,
  }));
}
