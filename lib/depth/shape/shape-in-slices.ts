import { layerParts, partsBelow } from "../../earth/embankment/layer-parts.js";
import { onBank } from "../../earth/embankment/on-bank.js";
import { type EmbankmentShape, USUAL_SHAPE } from "../../earth/embankment/shape.js";
import type { StationForward } from "../../earth/station-forward.js";
import { itemAt } from "../../numerics/arrays.js";
import { median, quantile } from "../../numerics/statistics/robust.js";
import { type StationShapes, stationShapes, usualShape } from "../../survey/bank/station-shapes.js";
import type { Campaign, Channel } from "../../survey/survey.js";
import type { Stations } from "../data/gather-stations.js";
import { type BankEffect, bankEffect } from "./bank-effect.js";

/** How the bank's own shape enters an estimate. */
export interface ShapeInSlices {
  /**
   * "applied"; "left" as asked; why not: the survey does not give the whole cross-section, or the
   * line does not run along the crest.
   */
  readonly state: "applied" | "left" | "no cross-section" | "beside the crest";
  /** The cross-section that covers most stations; a usual one where none is known. */
  readonly shape: EmbankmentShape;
  /** c responses of a homogeneous bank of that shape over those of level ground, by channel. */
  readonly factor: Float64Array;
  /** Stations without a cross-section among those with one. */
  readonly unknown: number;
}

/** The stations with the shape's effect on them where it is to be applied, and what to say of it. */
export function withShape(
  stations: Stations,
  campaign: Campaign,
  asked: "apply" | "leave",
): { readonly stations: Stations; readonly shape: ShapeInSlices } {
  const channels = stations.channels.map(({ channel }) => channel);
  const effectOf = (shapes: StationShapes) => bankEffect(shapes, channels, stations.height_m);
  const left_m = median(campaign.passes.flatMap(({ offset_m }) => [...offset_m])) || 0;
  const shapes = stationShapes(stations.chainage_m, left_m, campaign.crossSections);
  if (shapes.lacks !== null) {
    const usual = { shapes: [USUAL_SHAPE], of: shapes.of, lacks: null };
    const state = shapes.lacks === "crest" ? "beside the crest" : "no cross-section";
    return { stations, shape: summaryOf(effectOf(usual), state) };
  }
  const bank = effectOf(shapes);
  if (asked === "leave") return { stations, shape: summaryOf(bank, "left") };
  return { stations: { ...stations, bank }, shape: summaryOf(bank, "applied") };
}

function summaryOf(bank: BankEffect, state: ShapeInSlices["state"]): ShapeInSlices {
  const { shapes, of } = bank.shapes;
  const most = usualShape(bank.shapes);
  const shape = itemAt(shapes, most);
  const factor = bank.factors(most);
  return { state, shape, factor, unknown: of.filter((one) => one < 0).length };
}

/** A forward's channels and layers, to be taken onto the bank of an estimate. */
export interface ForwardSetup {
  readonly channels: readonly Channel[];
  readonly top_m: Float64Array;
  readonly height_m: number;
}

/** Takes responses of endless layers onto the bank that an estimate counted with, if it did. */
export function asEstimated(
  shape: ShapeInSlices | undefined,
  { channels, top_m, height_m }: ForwardSetup,
): (level: StationForward) => StationForward {
  if (shape?.state !== "applied") return (level) => level;
  const pairs = channels.map((channel) => ({ ...channel, height_m }));
  const parts = layerParts(partsBelow(shape.shape, pairs), top_m);
  return (level) => onBank(level, parts, channels);
}

/** "11–17 %": by how much the shape lowers the channels' readings. */
export function loweredText({ factor }: ShapeInSlices): string {
  const lowered = factor.map((one) => 100 * (1 - one));
  const [least, most] = [quantile(lowered, 0), quantile(lowered, 1)].map((one) => one.toFixed(0));
  return least === most ? `${least} %` : `${least}–${most} %`;
}

/** "crest of 4.0 m, 3.8 m high, slopes 1:3.0 and 1:2.5". */
export function shapeText({ shape }: ShapeInSlices): string {
  const { crestWidth_m, height_m, watersideSlope, landsideSlope } = shape;
  return (
    `crest of ${crestWidth_m.toFixed(1)} m, ${height_m.toFixed(1)} m high, slopes ` +
    `1:${watersideSlope.toFixed(1)} and 1:${landsideSlope.toFixed(1)}`
  );
}
