import { setImmediate as breathe } from "node:timers/promises";
import { valueAt } from "../../numerics/arrays.js";
import { type Random, seededRandom } from "../../numerics/random.js";
import type { LineReadings } from "../data/line-readings.js";
import { EarthSource } from "../prior/earth-source.js";
import { KIND_SHARES } from "../prior/kinds.js";
import { writeLayerMeans } from "../prior/layer-means.js";
import { reachable } from "../prior/reachable.js";
import { type TriedEarths, triedEarths } from "../prior/tried-earths.js";
import { type Hyperparameters, hyperparametersOf, type LineEnsemble } from "./hyperparameters.js";
import { lineScreens, type StationScreen } from "./line-screens.js";
import { responseStore } from "./response-store.js";
import { emptyScreened, MOST_MEMBERS, REACH, screenStations, TOGETHER } from "./screen-station.js";
import { commonNumbers, StationDrawer, type StationPosterior, weightsOf } from "./station-draws.js";

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

/** Members of the two rounds: a first look, and those of the kinds that it found. */
const ROUNDS = [4000, 8000] as const;
/** Share of the second round that keeps to the shares before the data. */
const DEFENSIVE = 0.2;
/** Columns that stand for the prior. */
const PRIOR_COLUMNS = 2000;

/**
 * Draws of the layered earth under every station, from a broad ensemble of earths whose responses
 * are computed once for the instrument. Each member is the centre of a Gaussian (its layers and the
 * coils' height), weighted at each station by its marginal likelihood and by its kind; weights of
 * the kinds and noise of the channels are found from the line. No model is iterated, so contrasts,
 * thin layers and resistivities that the data bound from one side only keep their spread. Draws of
 * neighbours share their random numbers, so that a draw is a whole line.
 *
 * Source: Doucet, de Freitas & Gordon 2001 (weighted samples); Anderson & Moore 1979, section 8.4
 * (Gaussian sums); both from memory.
 */
export async function lineDraws(readings: LineReadings, settings: DrawSettings) {
  const random = seededRandom(settings.seed);
  const line = await foundEnsemble(readings, settings.seed, random);
  const { level, found } = line;
  const screens = lineScreens(line.directions, level, found);
  const out = emptyDraws(readings, settings);
  const drawer = new LineDrawer(line, out, commonNumbers(settings.draws, level, random));
  const wanted = screens.map(({ screen, stations }) => ({
    screen,
    stations: stations.filter(settings.wanted),
  }));
  const total = wanted.reduce((sum, { stations }) => sum + stations.length, 0);
  let done = 0;
  for (const { screen, stations } of wanted) {
    if (stations.length === 0) continue;
    const made = screen();
    drawer.begin();
    for (const some of inRuns(stations, TOGETHER)) {
      settings.progress?.(done, total);
      await breathe();
      drawer.draw(some, made);
      done += some.length;
    }
  }
  settings.progress?.(total, total);
  const prior = priorColumns(found.kinds, settings);
  return { draws: { ...out, prior, found }, line };
}

/** Two rounds of members: the second of the kinds that the first found likely. */
async function foundEnsemble(
  readings: LineReadings,
  seed: number,
  random: Random,
): Promise<LineEnsemble> {
  const source = new EarthSource(seed);
  const store = responseStore(readings, seed);
  const within = reachable(readings);
  const [few, many] = ROUNDS;
  const first = triedEarths({ count: few, shares: KIND_SHARES, reachable: within, source });
  const rough = hyperparametersOf(first, { readings, store, random, kinds: null });
  await breathe();
  const shares = rough.found.kinds.map(
    (share, at) => (1 - DEFENSIVE) * share + DEFENSIVE * valueAt(KIND_SHARES, at),
  );
  const second = triedEarths({ count: many, shares, reachable: within, source });
  const { kinds } = rough.found;
  return hyperparametersOf(joined(first, second), { readings, store, random, kinds });
}

function joined(one: TriedEarths, other: TriedEarths): TriedEarths {
  return {
    earths: [...one.earths, ...other.earths],
    tried: one.tried.map((count, at) => count + valueAt(other.tried, at)),
  };
}

/** Consecutive runs of at most so many. */
function inRuns(all: readonly number[], most: number): readonly (readonly number[])[] {
  const count = Math.ceil(all.length / most);
  return Array.from({ length: count }, (_, r) => all.slice(r * most, (r + 1) * most));
}

type EmptyDraws = Omit<LineDraws, "prior" | "found">;

function emptyDraws({ n, width }: LineReadings, { draws, top_m }: DrawSettings): EmptyDraws {
  const blank = (size: number) => new Float64Array(n * size).fill(Number.NaN);
  return {
    columns: new Float32Array(n * draws * top_m.length).fill(Number.NaN),
    draws,
    top_m,
    squares: blank(width),
    residual: blank(width),
    effective: blank(1),
  };
}

/** Draws station by station, looking first at the best member of those before. */
class LineDrawer {
  private readonly drawer: StationDrawer;
  private readonly screened = Array.from({ length: TOGETHER }, () => emptyScreened(MOST_MEMBERS));
  private hint = -1;

  constructor(
    private readonly line: LineEnsemble,
    private readonly out: EmptyDraws,
    numbers: ReturnType<typeof commonNumbers>,
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
  }
}

/** Columns of the kinds as weighted, before any reading. */
function priorColumns(shares: Float64Array, { top_m, seed }: DrawSettings): Float32Array {
  const out = new Float32Array(PRIOR_COLUMNS * top_m.length);
  const [count, source] = [PRIOR_COLUMNS, new EarthSource(seed + 1)];
  const { earths } = triedEarths({ count, shares, reachable: () => true, source });
  for (const [k, earth] of earths.entries()) {
    writeLayerMeans(earth, { top_m, out, at: k * top_m.length });
  }
  return out;
}
