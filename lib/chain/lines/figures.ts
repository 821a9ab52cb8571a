import type { Block, BlockSlice } from "../../blocks/blocks.js";
import { type CellsPanel, stripSpec } from "../../figures/strip/strip.js";
import { sideText } from "../../place/lines/find-lines.js";
import type { Figure } from "../../step/figure.js";
import { significantText } from "../../step/number-text.js";
import type { WalkedLine } from "../../survey/survey.js";
import type { Work } from "../work.js";

interface LineBlocks extends WalkedLine {
  readonly blocks: readonly Block[];
}

/** The blocks of every line one above the other; no figure where one line was walked. */
export function linesFigure(work: Work): readonly Figure[] {
  const main = work.placed?.value.walkedLine ?? work.survey.value.walkedLine;
  const others = (work.otherLines?.value ?? []).flatMap(({ line, offset_m, work: own }) =>
    own.blocks === undefined ? [] : [{ line, offset_m, blocks: own.blocks.value.blocks }],
  );
  if (main === undefined || others.length === 0) return [];
  const lines = [{ ...main, blocks: work.blocks.value.blocks }, ...others];
  const title = contrastTitle(lines);
  const values = lines.flatMap(({ blocks }) => blocks.flatMap(slicesOf)).map((one) => one.median);
  const domain = [Math.min(...values), Math.max(...values)] as const;
  const caption =
    "Median resistivity of each block by depth, line by line from the waterside's left as seen " +
    "toward increasing chainage; one colour scale for all. Depths are below the ground that each " +
    "line was walked on, which at the toe lies lower than at the crest.";
  const panels = lines
    .toSorted((one, other) => other.offset_m - one.offset_m)
    .map((line) => linePanel(line, domain));
  return [{ id: "lines-side-by-side", title, caption, spec: stripSpec({ title, panels }) }];
}

const slicesOf = ({ resistivity_ohm_m }: Block) => resistivity_ohm_m;

function linePanel(
  { line, offset_m, blocks }: LineBlocks,
  domain: readonly [number, number],
): CellsPanel {
  return {
    kind: "cells",
    label: `${line}, ${sideText(offset_m)}`,
    unit: "ohm-m",
    domain,
    cells: blocks.flatMap(({ from_m, to_m, resistivity_ohm_m }) =>
      resistivity_ohm_m
        .filter(({ median }) => median > 0)
        .map(({ top_m, base_m, median: value }) => ({ from_m, to_m, top_m, base_m, value })),
    ),
  };
}

/** Where a line's upper ground differs most from the main line's. */
function contrastTitle([main, ...others]: readonly LineBlocks[]): string {
  const pairs = others.flatMap(({ line, blocks }) =>
    blocks.flatMap((one) => (main?.blocks ?? []).flatMap((other) => overlap(line, one, other))),
  );
  const size = ({ ratio }: { readonly ratio: number }) => Math.abs(Math.log(ratio));
  const [most] = pairs.toSorted((one, other) => size(other) - size(one));
  if (most === undefined || main === undefined) return "The lines have no ground in common";
  const { ratio, line, from_m, to_m } = most;
  const times = significantText(Math.max(ratio, 1 / ratio), 2);
  const [high, low] = ratio > 1 ? [line, main.line] : [main.line, line];
  return (
    `At ${from_m.toFixed(0)}–${to_m.toFixed(0)} m the upper ground along ${high} is ${times} times ` +
    `as resistive as along ${low}: no other place differs so much`
  );
}

/** Where two blocks of two lines lie side by side for some metres, and how they compare. */
function overlap(line: string, one: Block, other: Block) {
  const from_m = Math.max(one.from_m, other.from_m);
  const to_m = Math.min(one.to_m, other.to_m);
  const [a, b] = [first(one.resistivity_ohm_m), first(other.resistivity_ohm_m)];
  return to_m - from_m >= 10 && a > 0 && b > 0 ? [{ line, from_m, to_m, ratio: a / b }] : [];
}

const first = (slices: readonly BlockSlice[]) => slices[0]?.median ?? Number.NaN;
