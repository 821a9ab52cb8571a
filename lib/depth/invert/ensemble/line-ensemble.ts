import { setImmediate as breathe } from "node:timers/promises";
import { seededRandom } from "../../../numerics/random.js";
import { median } from "../../../numerics/statistics/robust.js";
import { atOneHeight } from "./at-one-height.js";
import { type Directions, directionsOf } from "./directions.js";
import type { EnsembleReadings } from "./ensemble-readings.js";
import { everywhere, findReadingNoise, MOST_MEMBERS, REACH } from "./find-reading-noise.js";
import { lineScreens } from "./line-screens.js";
import { memberResponses } from "./member-responses.js";
import { priorEarths } from "./prior-earths.js";
import { emptyScreened, screenStation } from "./screen-station.js";
import { StationDrawer, weightsOf, writeColumn } from "./station-draws.js";

export interface EnsembleSettings {
  /** m tops of the grid that columns are handed on. */
  readonly top_m: Float64Array;
  /** Members of the prior. */
  readonly members: number;
  /** Draws of each station. */
  readonly draws: number;
  readonly seed: number;
  readonly progress: ((done: number, total: number) => void) | null;
}

/** Posterior draws of a line. */
export interface LineDraws {
  /** n × draws × m ln conductivities; NaN where a station has no reading. */
  readonly columns: Float32Array;
  readonly draws: number;
  readonly top_m: Float64Array;
  /** n × c expected squares of the readings' errors over their noise; NaN where there is none. */
  readonly squares: Float64Array;
  /** n × c means of the same errors. */
  readonly residual: Float64Array;
  /** n effective numbers of members; intervals are rough where it is small. */
  readonly effective: Float64Array;
  /** c deviations found, over the stated noise. */
  readonly noiseScale: Float64Array;
  /** Columns of the prior, rows of m ln conductivities. */
  readonly prior: Float32Array;
}

/** Stations that the noise is found from. */
const SAMPLE = 120;
/** Members whose columns stand for the prior. */
const PRIOR_COLUMNS = 2000;
const CHUNK = 50;

/**
 * Draws of the layered earth under every station, from a broad ensemble of earths whose responses
 * are computed once for the instrument. Each member is the centre of a Gaussian (its layers and the
 * coils' height), weighted at each station by its marginal likelihood under the noise found from
 * the line. No model is iterated, so contrasts, thin layers and resistivities that the data bound
 * from one side only keep their spread.
 *
 * Source: Doucet, de Freitas & Gordon 2001 (weighted samples); Anderson & Moore 1979, section 8.4
 * (Gaussian sums); both from memory.
 */
export async function lineEnsemble(
  readings: EnsembleReadings,
  settings: EnsembleSettings,
): Promise<LineDraws> {
  const random = seededRandom(settings.seed);
  const ensemble = priorEarths(settings.members, random);
  const height_m = median(readings.height_m);
  const { channels, knee_ppm } = readings;
  const responses = memberResponses(ensemble, { channels, knee_ppm, height_m });
  const { top_m } = settings;
  const directions = directionsOf(ensemble, responses, readings);
  await breathe();
  const level = atOneHeight(readings, directions);
  const white = findReadingNoise(directions, level, { sample: sampleOf(level), random });
  const screens = lineScreens(directions, level, everywhere(level, white));
  const { n } = readings;
  const out = emptyDraws(readings, settings);
  const drawer = new LineDrawer(directions, { out, level, screens, random });
  for (let i = 0; i < n; i++) {
    if (i % CHUNK === 0) {
      settings.progress?.(i, n);
      await breathe();
    }
    drawer.draw(i);
  }
  settings.progress?.(n, n);
  const noiseScale = white.map((sd) => sd / readings.stated);
  return { ...out, noiseScale, prior: priorColumns(directions, top_m, random) };
}

type EmptyDraws = Omit<LineDraws, "noiseScale" | "prior">;

function emptyDraws({ n, channels }: EnsembleReadings, settings: EnsembleSettings): EmptyDraws {
  const { draws, top_m } = settings;
  return {
    columns: new Float32Array(n * draws * top_m.length).fill(Number.NaN),
    draws,
    top_m,
    squares: new Float64Array(n * channels.length).fill(Number.NaN),
    residual: new Float64Array(n * channels.length).fill(Number.NaN),
    effective: new Float64Array(n).fill(Number.NaN),
  };
}

interface LineDrawing {
  readonly out: EmptyDraws;
  readonly level: EnsembleReadings;
  readonly screens: ReturnType<typeof lineScreens>;
  readonly random: ReturnType<typeof seededRandom>;
}

/** Draws station by station, each beginning at the members of the one before. */
class LineDrawer {
  private readonly drawer: StationDrawer;
  private readonly found = emptyScreened(MOST_MEMBERS);
  private hint: Int32Array = new Int32Array(0);

  constructor(
    private readonly directions: Directions,
    private readonly line: LineDrawing,
  ) {
    this.drawer = new StationDrawer(directions);
  }

  draw(i: number): void {
    const { out, level, screens, random } = this.line;
    const { draws, top_m } = out;
    const c = level.channels.length;
    const reading = level.value.subarray(i * c, (i + 1) * c);
    if (reading.every((value) => Number.isNaN(value))) return;
    const { screen, sd } = screens(i);
    screenStation(screen, reading, { reach: REACH, hint: this.hint, out: this.found });
    this.hint = this.found.member.slice(0, Math.min(8, this.found.count));
    out.effective[i] = 1 / weightsOf(this.found).reduce((sum, value) => sum + value * value, 0);
    for (let d = 0; d < c; d++) {
      if (!Number.isNaN(reading[d]!)) out.squares[i * c + d] = out.residual[i * c + d] = 0;
    }
    let at = i * draws * top_m.length;
    this.drawer.take(reading, this.found, {
      setup: { screen, sd, random },
      draws,
      each: (draw) => {
        writeColumn(this.directions, draw, { top_m, out: out.columns, at });
        at += top_m.length;
        for (let d = 0; d < c; d++) {
          const error = draw.error[d]! / sd[d]! / draws;
          out.residual[i * c + d]! += error;
          out.squares[i * c + d]! += draws * error * error;
        }
      },
    });
  }
}

/** Stations with readings, evenly spread over the line. */
function sampleOf({ n, value, channels }: EnsembleReadings): number[] {
  const c = channels.length;
  const known = Array.from({ length: n }, (_, i) => i).filter((i) =>
    value.subarray(i * c, (i + 1) * c).some((one) => !Number.isNaN(one)),
  );
  if (known.length <= SAMPLE) return known;
  const step = known.length / SAMPLE;
  return Array.from({ length: SAMPLE }, (_, s) => known[Math.floor((s + 0.5) * step)]!);
}

/** Columns of the first members, moved by their own spread. */
function priorColumns(
  directions: Directions,
  top_m: Float64Array,
  random: ReturnType<typeof seededRandom>,
): Float32Array {
  const count = Math.min(PRIOR_COLUMNS, directions.ensemble.count);
  const out = new Float32Array(count * top_m.length);
  const drawer = new StationDrawer(directions);
  for (let k = 0; k < count; k++) {
    const draw = drawer.prior(k, random);
    writeColumn(directions, draw, { top_m, out, at: k * top_m.length });
  }
  return out;
}
