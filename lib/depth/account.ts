import { itemAt } from "../numerics/arrays.js";
import { findLines } from "../place/lines/find-lines.js";
import type { StepReport } from "../step/define-step.js";
import { listText } from "../step/list-text.js";
import type { Basis } from "../step/step-account.js";
import { accountFor } from "../survey/account/reading-status.js";
import type { Campaign } from "../survey/survey.js";
import type { DepthSlices, Slice } from "./depth-slices.js";
import { depthFigures } from "./figures.js";
import { illFittedText } from "./ill-fitted.js";
import { SHAPE_BASIS, shapeCautions } from "./shape/account.js";
import { hiddenLayers_m } from "./slices/hidden-layer.js";
import { depthTables } from "./tables.js";

/** What `estimateDepthSlices` says of itself. */
export function depthReport(
  value: DepthSlices,
  _: unknown,
  campaign: Campaign,
): StepReport<DepthSlices> {
  return {
    value,
    summary: summaryOf(value),
    basis: [...BASIS, ...(value.shape?.state === "applied" ? [SHAPE_BASIS] : [])],
    cautions: [...linesCaution(campaign), ...cautionsOf(campaign, value)],
    accounting: accountFor([campaign]),
    figures: depthFigures(value),
    tables: depthTables(value),
  };
}

const BASIS: readonly Basis[] = [
  {
    statement: "Full quasi-static response of a layered earth, no low-induction approximation.",
    source: "Wait 1982; Ward & Hohmann 1988",
  },
  {
    statement:
      "Draws from a broad ensemble of layered earths, weighted at each station by its readings: " +
      "blocks of 2 to 2000 ohm-m, sharp or graded, smooth or rough.",
    source: "Doucet, de Freitas & Gordon 2001, Sequential Monte Carlo Methods in Practice",
  },
  {
    statement: "Weights of the kinds of ground and noise of each channel by the line's likelihood.",
    source: "Dempster, Laird & Rubin 1977",
  },
  {
    statement:
      "Independent levels are the trace of the resolution matrix for ground of ordinary variation. " +
      "There is a slice for each, cut where the readings tell most; it is reliable where its mean " +
      "log resistivity is known to the stated deviation, from both sides alike, and holds no " +
      "strong contrast.",
    source: "Rodgers 2000, Inverse Methods for Atmospheric Sounding; Cover & Thomas 2006",
  },
];

/** Lines that nobody parted: what `placeReadings` hands on holds none. */
function linesCaution(campaign: Campaign): readonly string[] {
  const lines = findLines([campaign]);
  if (lines.length === 0) return [];
  const names = listText(lines.map(({ line }) => line));
  return [
    `Campaign ${campaign.label} holds readings that lie apart across the bank (${names}), taken ` +
      "together here. placeReadings parts the lines of a survey.",
  ];
}

function summaryOf(value: DepthSlices): string {
  const known = value.gap.filter((gap) => gap === "").length;
  return (
    `Resistivity by depth at ${known} of ${value.gap.length} stations of campaign ` +
    `${value.campaign}. The data hold ${value.independentLevels.toFixed(1)} independent levels; ` +
    `slices: ${value.slices.map(sliceText).join(", ") || "none"}. Noise of the channels as found: ` +
    `${noiseText(value)} times the stated one.`
  );
}

function sliceText({ top_m, base_m, reliable }: Slice): string {
  return `${top_m.toFixed(1)}–${base_m.toFixed(1)} m${reliable ? "" : " (not reliable)"}`;
}

function noiseText({ channels = [] }: DepthSlices): string {
  const scales = channels.map(({ noiseScale }) => noiseScale);
  return `${Math.min(...scales).toFixed(1)} to ${Math.max(...scales).toFixed(1)}`;
}

function cautionsOf(campaign: Campaign, value: DepthSlices): readonly string[] {
  const { slices } = value;
  const texts = [...(value.shape === undefined ? [] : shapeCautions(value.shape))];
  if (value.gap.every((gap) => gap !== "")) {
    texts.push(
      "No station has an estimate: its readings are set aside or without a position, or too few of its " +
        "channels were read within it. Where a logger reads one channel after another, a longer " +
        "`spacing_m` or a lower `channelShare` makes stations of its readings.",
    );
  } else if (!slices.some(({ reliable }) => reliable)) {
    texts.push("The readings decide no slice well: what is handed on leans on the prior.");
  }
  texts.push(...slices.filter(({ reliable }) => !reliable).map((slice) => openText(slice)));
  texts.push(...hiddenText(value));
  texts.push(...fewText(value));
  const ill = illFittedText(value);
  if (ill !== null) texts.push(ill);
  const noisy = (value.channels ?? []).filter(({ noiseScale }) => noiseScale > 2);
  if (noisy.length > 0) {
    texts.push(
      `Noise found is more than twice the stated one in ${noisy.length} of ` +
        `${value.channels?.length} channels (${noisy.map((one) => one.channel).join(", ")}): drift, ` +
        "metal or ground that is not layered is left in them.",
    );
  }
  const channels = campaign.passes.flatMap((pass) => pass.instrument.channels);
  if (channels.some((channel) => channel.kind === "conductivity")) {
    texts.push(
      "Apparent conductivities were turned back into quadrature by the low-induction relation; " +
        "an instrument that states another conductivity needs its own conversion first.",
    );
  }
  return texts;
}

/** What layer of reliable slices may hide beyond their intervals. */
function hiddenText(value: DepthSlices): readonly string[] {
  const told = hiddenLayers_m(value).flatMap((thick_m, k) => {
    const { top_m, base_m, reliable } = itemAt(value.slices, k);
    if (!reliable || thick_m === null) return [];
    return [`${thick_m.toFixed(2)} m in ${top_m.toFixed(1)}–${base_m.toFixed(1)} m`];
  });
  if (told.length === 0) return [];
  return [
    "A thin resistive layer, such as a sand lens in clay, hardly shows to coils over it: even ground fits " +
      "such readings as well, and intervals by depth are those of ground without one. A layer of ten " +
      "times the resistivity around it leaves less than half of the truths in the 80 % interval from " +
      `these thicknesses on: ${listText(told)}. A resistivity line or a borehole tells.`,
  ];
}

/** Stations that fewer earths of the ensemble stand for are few in number, or it is said. */
const FEW = 5;

function fewText({ members = new Float64Array(0) }: DepthSlices): readonly string[] {
  const known = members.filter((count) => !Number.isNaN(count));
  const few = known.filter((count) => count < FEW).length;
  if (!(few > 0.1 * known.length)) return [];
  return [
    `At ${few} of ${known.length} stations fewer than ${FEW} earths of the ensemble explain the ` +
      "readings: their intervals, widened for it, are rough.",
  ];
}

/** Why a slice is not reliable, as far as its bounds tell. */
function openText({ top_m, base_m, bounded = "neither" }: Slice): string {
  const depths = `${top_m.toFixed(1)}–${base_m.toFixed(1)} m`;
  return {
    below: `The slice ${depths} is bounded from below only: "over" its lower value is all that is known.`,
    above: `The slice ${depths} is bounded from above only: "under" its upper value is all that is known.`,
    both: `The slice ${depths} is known less well than asked for, or mixes ground of strong contrast.`,
    neither: `The readings say next to nothing about the slice ${depths}.`,
  }[bounded];
}
