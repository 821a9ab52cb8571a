import type { Borehole } from "../../../survey/survey.js";
import type { ChannelNames } from "../channels/channel-names.js";
import type { ChannelReach } from "../channels/channel-reach.js";

/** What the inversion says of the ground under one station. */
export interface Sounding {
  readonly campaign: string;
  /** The station. */
  readonly chainage_m: number;
  /** What was asked for. */
  readonly asked_m: number;
  readonly crestElevation_m: number | null;
  /** m depths of the layers' tops, the first 0; the last layer goes on for ever. */
  readonly top_m: Float64Array;
  /** m most likely resistivities at field temperature, and the bounds of their 80 % intervals. */
  readonly resistivity_ohm_m: Float64Array;
  readonly p10_ohm_m: Float64Array;
  readonly p90_ohm_m: Float64Array;
  /** m shares of the prior's variance that the readings removed, 0 to 1. */
  readonly learned: Float64Array;
  readonly reliableTo_m: number;
  /** How deep each channel looks into this ground; empty where coils or heights are not known. */
  readonly channels: readonly SoundingReach[];
  /** The nearest of the boreholes given that is near enough. */
  readonly borehole: Borehole | null;
}

/** A channel by name and family, and the depths that it is sensitive to. */
export interface SoundingReach extends ChannelNames, ChannelReach {}
