// A small maker of in-memory campaigns for tests: a straight crest, one pass or several.
import type {
  BaseCheck,
  Campaign,
  Cause,
  Channel,
  FieldNote,
  Pass,
} from "../../lib/survey/survey.js";

/** 2031-10-14T08:00:00Z, where sketched campaigns start unless told otherwise. */
export const campaignStart_s = Date.UTC(2031, 9, 14, 8) / 1000;

/** One walk. Every list has n entries; what is left out gets a plain value. */
export interface PassSketch {
  readonly channels: readonly Channel[];
  /** For each channel, n values in the channel's unit. */
  readonly values: readonly ArrayLike<number>[];
  readonly chainage_m: ArrayLike<number>;
  /** Left out: one reading a second and a bit, walking 1 m/s from `start_s`. */
  readonly time_s?: ArrayLike<number>;
  readonly start_s?: number;
  readonly offset_m?: ArrayLike<number>;
  /** Left out: 0.9 m throughout. */
  readonly height_m?: number;
  readonly line?: readonly string[];
  readonly setAside?: readonly ArrayLike<number>[];
  readonly resource?: string;
}

export interface CampaignSketch {
  readonly label?: string;
  readonly passes: readonly PassSketch[];
  readonly baseChecks?: readonly CheckSketch[];
  readonly notes?: readonly NoteSketch[];
  readonly causes?: readonly Cause[];
}

export type CheckSketch = Pick<BaseCheck, "time_s" | "values"> & { readonly spot?: string };
export type NoteSketch = Pick<FieldNote, "from_m" | "to_m"> & Partial<FieldNote>;

/** A channel named after what it is, such as "q_4800_hcp". */
export function channelOf(sketch: Partial<Channel> = {}): Channel {
  const { kind = "quadrature", frequency_Hz = 4800, orientation = "HCP" } = sketch;
  const letter = { quadrature: "q", inphase: "i", conductivity: "c" }[kind];
  const unit = kind === "conductivity" ? "mS/m" : "ppm";
  const field = `${letter}_${frequency_Hz}_${orientation.toLowerCase()}`;
  return { field, kind, unit, frequency_Hz, separation_m: 1.8, orientation, ...sketch };
}

export function passOf(sketch: PassSketch): Pass {
  const n = sketch.chainage_m.length;
  const chainage_m = Float64Array.from(sketch.chainage_m);
  const start_s = sketch.start_s ?? campaignStart_s;
  const resource = sketch.resource ?? "walk";
  const height_m = sketch.height_m ?? 0.9;
  return {
    resource,
    file: `${resource}.csv`,
    instrument: { height_m, channels: sketch.channels },
    count: n,
    row: Int32Array.from({ length: n }, (_, i) => i + 2),
    time_s: sketch.time_s
      ? Float64Array.from(sketch.time_s)
      : Float64Array.from({ length: n }, (_, i) => start_s + 1.2 * i),
    line: sketch.line ?? new Array<string>(n).fill(""),
    easting_m: chainage_m.map((x) => 500_000 + x),
    northing_m: new Float64Array(n).fill(5_800_000),
    chainage_m,
    offset_m: sketch.offset_m ? Float64Array.from(sketch.offset_m) : new Float64Array(n),
    height_m: new Float64Array(n).fill(height_m),
    values: sketch.values.map((column) => Float64Array.from(column)),
    setAside: sketch.channels.map((_, c) =>
      Uint8Array.from(sketch.setAside?.[c] ?? Array(n).fill(0)),
    ),
    corrected: new Uint8Array(n),
  };
}

export function campaignOf(sketch: CampaignSketch): Campaign {
  const passes = sketch.passes.map(passOf);
  const furthest_m = Math.max(
    100,
    ...passes.flatMap((pass) => [...pass.chainage_m].filter(Number.isFinite)),
  );
  return {
    label: sketch.label ?? "2031-10",
    passes,
    baseChecks: (sketch.baseChecks ?? []).map((check, i) => ({
      file: "base-checks.csv",
      row: i + 2,
      spot: "B1",
      ...check,
    })),
    notes: (sketch.notes ?? []).map(noteOf),
    soilTemperature: [],
    causes: sketch.causes ?? [],
    centreline: {
      easting_m: Float64Array.of(500_000, 500_000 + furthest_m),
      northing_m: Float64Array.of(5_800_000, 5_800_000),
      chainage_m: Float64Array.of(0, furthest_m),
      epsg: 32631,
    },
  };
}

function noteOf(sketch: NoteSketch, index: number): FieldNote {
  return {
    row: index + 2,
    kind: "metal",
    object: "gate",
    offset_m: null,
    time_s: null,
    campaign: null,
    text: "",
    ...sketch,
  };
}

/** Every name and number of a campaign as text, to see whether anything in it changed. */
export function snapshot(campaign: Campaign): string {
  return JSON.stringify(campaign, (_, value) =>
    ArrayBuffer.isView(value) ? Array.from(value as Float64Array, String) : value,
  );
}
