import { TOGETHER } from "../../numerics/wasm/kernels.js";
import type { LineReadings } from "../data/line-readings.js";
import { writeLayerMeans } from "../prior/layer-means.js";
import type { CommonNumbers } from "./common-numbers.js";
import type { Hyperparameters, LineEnsemble } from "./hyperparameters.js";
import type { StationScreen } from "./line-screens.js";
import { emptyScreened, MOST_MEMBERS, REACH, screenStations } from "./screen-station.js";
import { StationDrawer, type StationPosterior, weightsOf } from "./station-draws.js";

export interface DrawSettings {
  /** m tops of the grid that columns are handed on. */
  readonly top_m: Float64Array;
  /** Draws of each station. */
  readonly draws: number;
  readonly seed: number;
  /** Stations that are drawn. */
  readonly wanted: (station: number) => boolean;
  readonly progress: ((done: number, total: number) => void) | null;
}

/** Posterior draws of a line. */
export interface LineDraws {
  /** n × draws × m ln conductivities; NaN at stations that are not drawn. */
  readonly columns: Float32Array;
  readonly draws: number;
  readonly top_m: Float64Array;
  /** n × width expected squares of the readings' errors over their noise; NaN where there is none. */
  readonly squares: Float64Array;
  /** n × width means of the same errors. */
  readonly residual: Float64Array;
  /** n effective numbers of members; intervals are rough where it is small. */
  readonly effective: Float64Array;
  /** Columns of the prior as found, rows of m ln conductivities. */
  readonly prior: Float32Array;
  readonly found: Hyperparameters;
}

export type EmptyDraws = Omit<LineDraws, "prior" | "found">;

/** Lines of so many stations and more are drawn by several threads, in memory that all share. */
export const MANY_STATIONS = 2500;

export function emptyDraws({ n, width }: LineReadings, { draws, top_m }: DrawSettings): EmptyDraws {
  const memory = (bytes: number) =>
    n < MANY_STATIONS ? new ArrayBuffer(bytes) : new SharedArrayBuffer(bytes);
  const blank = (size: number) => new Float64Array(memory(8 * n * size)).fill(Number.NaN);
  return {
    columns: new Float32Array(memory(4 * n * draws * top_m.length)).fill(Number.NaN),
    draws,
    top_m,
    squares: blank(width),
    residual: blank(width),
    effective: blank(1),
  };
}

/** Draws station by station, looking first at the best member of those before. */
export class LineDrawer {
  private readonly drawer: StationDrawer;
  private readonly screened = Array.from({ length: TOGETHER }, () => emptyScreened(MOST_MEMBERS));
  private hint = -1;

  constructor(
    private readonly line: LineEnsemble,
    private readonly out: EmptyDraws,
    numbers: CommonNumbers,
  ) {
    this.drawer = new StationDrawer(line.directions, numbers);
  }

  /** Begins with another screen. */
  begin(): void {
    this.hint = -1;
  }

  draw(stations: readonly number[], { screen, sd }: StationScreen): void {
    const { level } = this.line;
    const { screened, hint } = this;
    const readings = stations.map((i) =>
      level.value.subarray(i * level.width, (i + 1) * level.width),
    );
    screenStations(screen, readings, { sd, reach: REACH, hint, out: screened });
    this.hint = screened[stations.length - 1]!.best;
    for (const [s, i] of stations.entries()) {
      this.drawOne(i, { screened: screened[s]!, screen, sd });
    }
  }

  private drawOne(i: number, { screened, screen, sd }: Omit<StationPosterior, "weights">): void {
    const { out } = this;
    const { level, directions } = this.line;
    const { draws, top_m } = out;
    const c = level.width;
    const reading = level.value.subarray(i * c, (i + 1) * c);
    const weights = weightsOf(screened);
    out.effective[i] = 1 / weights.reduce((sum, value) => sum + value * value, 0);
    for (let d = 0; d < c; d++) {
      if (!Number.isNaN(reading[d]!)) out.squares[i * c + d] = out.residual[i * c + d] = 0;
    }
    let at = i * draws * top_m.length;
    this.drawer.take(reading, { screened, weights, screen, sd }, (draw) => {
      const { layers: lnConductivity, thickness_m } = draw;
      const layers = directions.ensemble.layers[draw.member]!;
      writeLayerMeans({ lnConductivity, thickness_m, layers }, { top_m, out: out.columns, at });
      at += top_m.length;
      for (let d = 0; d < c; d++) {
        const error = draw.error[d]! / sd[d]!;
        out.residual[i * c + d]! += error / draws;
        out.squares[i * c + d]! += (error * error) / draws;
      }
    });
    widen(out.columns.subarray(at - draws * top_m.length, at), draws, out.effective[i]!);
  }
}

/**
 * A mean over few members errs by a share of the spread: draws go out from it by √(1 + 1/members).
 * Source: Kong, Liu & Wong 1994, JASA 89 (effective numbers; from memory).
 */
export function widen(columns: Float32Array, draws: number, members: number): void {
  const m = columns.length / draws;
  const out = Math.sqrt(1 + 1 / members) - 1;
  const mean = new Float64Array(m);
  for (let at = 0; at < columns.length; ) {
    for (let j = 0; j < m; j++) mean[j]! += columns[at++]! / draws;
  }
  for (let at = 0; at < columns.length; ) {
    for (let j = 0; j < m; j++, at++) columns[at]! += out * (columns[at]! - mean[j]!);
  }
}
