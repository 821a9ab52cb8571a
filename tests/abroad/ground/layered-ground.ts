import type { Chance } from "../random.js";
import type { Column } from "./columns.js";
import { type Profile, texture } from "./profiles.js";

/** A bank along its chainage, at 25 °C, with the truth that an interpretation should find. */
export interface Ground {
  readonly kind: string;
  readonly length_m: number;
  /** Where the ground changes from one stretch to another; empty where it nowhere does. */
  readonly boundaries_m: readonly number[];
  readonly columnAt: (chainage_m: number) => Column;
}

/** One layer: how thick and how resistive along the bank, before texture. */
export interface LayerSketch {
  /** m; 0 or less where it is not there. Of the last layer without meaning. */
  readonly thickness_m: Profile;
  /** log10(ohm-m). */
  readonly log10: Profile;
  /** Standard deviation of its texture, log10. */
  readonly texture: number;
}

export interface GroundSketch {
  readonly kind: string;
  readonly length_m: number;
  readonly boundaries_m?: readonly number[];
  readonly layers: readonly LayerSketch[];
}

/** Layers thinner than this are taken as not there, m. */
const THINNEST_M = 0.02;
/** Layers are cut so that texture and temperature differ within them, m. */
const CUT_M = 0.6;
/** Depth to which they are cut, m. */
const CUT_TO_M = 6;

/**
 * Layers with texture: half its variance is common to the whole column, half is the layer's own, both
 * with the same correlation, drawn between 2 and 30 m for the whole bank.
 */
export function layeredGround(random: Chance, sketch: GroundSketch): Ground {
  const { kind, length_m, layers, boundaries_m = [] } = sketch;
  const correlation_m = 2 * 15 ** random.uniform();
  const row = () => texture(random, { length_m, correlation_m });
  const common = row();
  const own = layers.map(row);
  const columnAt = (chainage_m: number) => {
    const tops: number[] = [];
    const log10: number[] = [];
    let top = 0;
    for (const [k, layer] of layers.entries()) {
      const last = k === layers.length - 1;
      const thickness = last ? Math.max(CUT_TO_M - top, CUT_M) : layer.thickness_m(chainage_m);
      if (!(thickness > THINNEST_M)) continue;
      const grain = Math.SQRT1_2 * (common(chainage_m) + own[k]!(chainage_m));
      const value = layer.log10(chainage_m) + layer.texture * grain;
      const pieces = Math.ceil(thickness / CUT_M);
      for (let piece = 0; piece < pieces; piece++) {
        tops.push(top + (piece * thickness) / pieces);
        log10.push(value);
      }
      top += thickness;
    }
    return { top_m: tops, log10 };
  };
  return { kind, length_m, boundaries_m, columnAt };
}
