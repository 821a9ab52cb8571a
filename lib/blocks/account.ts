import type { DepthSlices } from "../depth/depth-slices.js";
import type { StepReport } from "../step/define-step.js";
import type { Basis } from "../step/step-account.js";
import type { Block, Blocks } from "./blocks.js";
import { classFigure } from "./classes/class-figure.js";
import { classTable } from "./classes/class-table.js";
import { cuttable, noneReliable } from "./cuttable.js";
import { blocksFigure } from "./figures/blocks-figure.js";
import { blocksMap } from "./figures/map-figure.js";
import { pathFigure } from "./figures/path-figure.js";
import { intervalWidth, leastCertain } from "./least-certain.js";
import type { SegmentBlocksOptions } from "./options.js";
import { shortBodiesText } from "./short-bodies.js";
import { blocksTable, trendText } from "./tables.js";

/** The account of `segmentBlocks`. */
export function blocksReport(
  value: Blocks,
  { boreholes, minLength_m }: SegmentBlocksOptions,
  given: DepthSlices,
): StepReport<Blocks> {
  const { blocks } = value;
  if (blocks.length === 0) {
    return { value, summary: summaryOf(value), basis: BASIS, cautions: [emptyText(given)] };
  }
  const path = pathFigure(value);
  const bodies = shortBodiesText(value.shortBodies ?? [], minLength_m);
  return {
    value,
    summary: summaryOf(value),
    basis: BASIS,
    cautions: [
      ...(bodies === null ? [] : [bodies]),
      ...cautionsOf(given, blocks),
      ...groundTexts(value),
    ],
    figures: [
      blocksFigure(cuttable(given), value),
      ...(path === null ? [] : [path]),
      classFigure(value),
      blocksMap(value),
    ],
    tables: [blocksTable(value), classTable(value, boreholes)],
  };
}

const BASIS: readonly Basis[] = [
  {
    statement:
      "Candidates, and at a price that is given the cut, are the exact optimum of squared scatter " +
      "within blocks and a price per break.",
    source: "Jackson et al. 2005; Killick, Fearnhead & Eckley 2012",
  },
  {
    statement:
      'With penalty "mbic", the price follows from the number of stations and what a ' +
      "step's size tells.",
    source: "Zhang & Siegmund 2007, Biometrics 63, 22–32",
  },
  {
    statement:
      "Neighbouring stations are alike; the noise of a block's level is their long-run variance.",
    source: "Wu & Zhao 2007, Journal of the Royal Statistical Society B 69, 391–410",
  },
  {
    statement:
      "A boundary is a step that is likelier than a ramp, than a level that wanders and than " +
      "nothing, over ground with white noise and a texture of 2 to 30 m reach.",
    source: "Durbin & Koopman 2012, Time Series Analysis by State Space Methods (likelihood)",
  },
  {
    statement:
      "A boundary's interval is from the likelihood of its places, the others staying; where a " +
      "price is given, from the exact posterior over all cuts.",
    source: "Fearnhead 2006, Statistics and Computing 16, 203–213 (exact posterior)",
  },
  {
    statement: "The best cuts at all other prices show which boundaries hang by a thread.",
    source:
      "Haynes, Eckley & Fearnhead 2017, Journal of Computational and Graphical Statistics 26, " +
      "134–143",
  },
  {
    statement:
      "Classes are a normal mixture over the blocks, their number by the Bayes information " +
      "criterion.",
    source: "Fraley & Raftery 2002, Journal of the American Statistical Association 97, 611–631",
  },
];

/** How many blocks of how many classes, and which boundary is least certain. */
function summaryOf({ blocks, campaign }: Blocks): string {
  if (blocks.length === 0) return `Campaign ${campaign} gives no blocks: nothing reliable to cut.`;
  const classes = new Set(blocks.map((block) => block.class)).size;
  const count = (n: number, noun: string) =>
    `${n} ${noun}${n === 1 ? "" : noun.endsWith("s") ? "es" : "s"}`;
  const found =
    `The line of campaign ${campaign} was cut into ${count(blocks.length, "block")} of ` +
    `${count(classes, "class")}.`;
  const worst = leastCertain(blocks);
  if (worst === null) return `${found} No boundary is worth its price.`;
  const half = (intervalWidth(worst) / 2).toFixed(0);
  return (
    `${found} The least certain boundary is at ${worst.from_m.toFixed(0)} m, within about ` +
    `${half} m either way.`
  );
}

function emptyText(given: DepthSlices): string {
  return noneReliable(given)
    ? "There are no blocks because no station has an estimate."
    : "There are no blocks because no station has an estimate in a reliable slice.";
}

function cautionsOf(given: DepthSlices, blocks: readonly Block[]): readonly string[] {
  const texts = [
    "A class says that blocks are alike in resistivity, not what soil they are: resistivity " +
      "ranges of soils overlap. Name a class from boreholes in it.",
    "Resistivities are at field temperature; compare them between campaigns only at 25 °C.",
  ];
  if (noneReliable(given)) {
    texts.push(
      "No slice is reliable by itself. The blocks rest on differences along the line, which errors " +
        "common to the line leave as they are; their resistivities are rough.",
    );
  } else if (!given.slices.every((slice) => slice.reliable)) {
    texts.push("Slices that are not reliable were not used.");
  }
  const few = blocks.filter((block) => block.stations < 20);
  if (few.length > 0) texts.push(`Few stations (under 20): ${named(few)}.`);
  const masked = blocks.filter((block) => block.masked_pct > 30);
  if (masked.length > 0) {
    texts.push(
      `More than 30 % of the length has no estimate, and may hold other ground: ${named(masked)}.`,
    );
  }
  const doubtful = blocks
    .slice(1)
    .flatMap(({ from_m, fromProbability: sure = 1 }) =>
      sure < 0.9 ? [`${from_m.toFixed(0)} m (${(100 * sure).toFixed(0)} %)`] : [],
    );
  if (doubtful.length > 0) {
    texts.push(`Less than 90 % sure to be there at all: the boundary at ${doubtful.join(", ")}.`);
  }
  const wide = blocks.slice(1).filter((block) => intervalWidth(block) > 30);
  if (wide.length > 0) {
    const places = wide.map((block) => `${block.from_m.toFixed(0)} m`).join(", ");
    texts.push(`The 90 % interval is wider than 30 m for the boundary at ${places}.`);
  }
  return texts;
}

/** Ground that is not of blocks, and what is too small to be seen in it. */
function groundTexts({ blocks, wandersBy = 1 }: Blocks): readonly string[] {
  const trends = blocks.flatMap((block) => {
    const text = trendText(block);
    return text === null ? [] : [`${block.id} ${text}`];
  });
  // Less than a hundredth says that the scatter could not be told, not that every step would show.
  const steps = blocks.flatMap(({ leastStep_pct = 0 }) =>
    leastStep_pct >= 1 ? leastStep_pct : [],
  );
  const texts: string[] = [];
  if (trends.length > 0) {
    texts.push(`Not of one make, and without a boundary in it: ${trends.join("; ")}.`);
  }
  if (wandersBy > 1) {
    texts.push(
      `The level wanders by a factor of about ${wandersBy.toFixed(2)} in 100 m beside the ` +
        "boundaries: a block's resistivity is a mean over ground that changes all along.",
    );
  }
  if (steps.length > 0) {
    const [least, most] = [Math.min(...steps), Math.max(...steps)].map((one) => one.toFixed(0));
    const range = least === most ? `${least} %` : `${least} to ${most} %, by block,`;
    texts.push(`A step under ${range} would not be seen here in the middle of a block.`);
  }
  return texts;
}

const named = (blocks: readonly Block[]) => blocks.map((block) => block.id).join(", ");
