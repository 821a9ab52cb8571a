import { itemAt, valueAt } from "../../numerics/arrays.js";
import type { Random } from "../../numerics/random.js";
import type { LineReadings } from "../data/line-readings.js";
import { ensembleOf } from "../prior/earth-ensemble.js";
import { factored, KIND_SHARES } from "../prior/kinds.js";
import { inOrder, type TriedEarths } from "../prior/tried-earths.js";
import { atOneHeight } from "./at-one-height.js";
import { type CommonNumbers, commonNumbers } from "./common-numbers.js";
import { type Directions, directionsOf } from "./directions.js";
import { countsOf } from "./ill-explained.js";
import { lineScreens } from "./line-screens.js";
import { memberResponses } from "./member-responses.js";
import type { ResponseStore } from "./response-store.js";
import { emptyScreened, MOST_MEMBERS, REACH, screenStations } from "./screen-station.js";
import { StationDrawer, weightsOf } from "./station-draws.js";

/** What is found of a line before its stations are drawn. */
export interface Hyperparameters {
  /** Deviations of what differs from station to station, reading scale, one a channel or tie. */
  readonly white: Float64Array;
  /** Weights of the kinds of ground; they add up to 1. */
  readonly kinds: Float64Array;
}

/** The readings at one height, and what was found of the line. */
export interface FoundLine {
  readonly level: LineReadings;
  readonly height_m: number;
  readonly found: Hyperparameters;
}

/** The same with the members and their responses at that height. */
export interface LineEnsemble extends Omit<FoundLine, "height_m"> {
  readonly directions: Directions;
}

/** So many imagined stations hold each channel's noise at the stated one. */
const IMAGINED = 5;
const ROUNDS = 2;
const DRAWS = 24;
/** Stations that are looked at. */
const SAMPLE = 40;
/** Bounds, as shares of the stated noise: beyond them that is to be looked at. */
const LEAST = 0.15;
const MOST = 6;
/** So many imagined stations of the kinds' shares before the data; so many of the line count. */
const HELD = 4;
const COUNTED = 12;

interface Search {
  readonly readings: LineReadings;
  readonly store: ResponseStore;
  readonly random: Random;
  /** Kinds to begin with; null: by their shares, and noise is kept at twice the stated. */
  readonly kinds: Float64Array | null;
}

/**
 * Noise of each channel, smaller or larger than stated, and weights of the kinds of ground: rounds
 * of expectation-maximisation over a sample of stations. The noise is the mean square of the
 * readings' errors in posterior draws, the known share of gain and drift left out of it; a kind's
 * weight its share of the stations' posteriors, held by the shares before the data. Stations count
 * for few, since neighbours and the line's common errors are alike.
 * Source: Dempster, Laird & Rubin 1977.
 */
export function hyperparametersOf(
  { earths, tried }: TriedEarths,
  { readings, store, random, kinds }: Search,
): LineEnsemble {
  const before = tried.map((count) => -Math.log(Math.max(1, count)));
  const ensemble = ensembleOf(inOrder(earths), before);
  const responses = memberResponses(ensemble, readings, store);
  const directions = directionsOf(ensemble, responses, readings);
  const level = atOneHeight(readings, directions);
  const sample = sampleOf(level);
  const numbers = commonNumbers(DRAWS, level, random);
  const first = kinds === null;
  let found: Hyperparameters = {
    white: level.stated.map((sd) => (first ? 2 * sd : sd)),
    kinds: kinds ?? KIND_SHARES,
  };
  for (let round = 0; round < ROUNDS; round++) {
    const said = expectations({ directions, level, found }, { sample, numbers });
    const white = found.white.map((sd, d) => {
      if (first || d >= level.channels.length) return sd;
      const stated = valueAt(level.stated, d);
      const next = sd * valueAt(said.squares, d) ** 0.9;
      return Math.min(MOST * stated, Math.max(LEAST * stated, next));
    });
    found = { white, kinds: kindsBy(said.masses, said.stations) };
  }
  return { directions, level, found };
}

function kindsBy(masses: Float64Array, stations: number): Float64Array {
  const each = COUNTED / Math.max(1, stations);
  return factored(masses.map((mass, at) => HELD * valueAt(KIND_SHARES, at) + each * mass));
}

interface Sampled {
  readonly sample: readonly number[];
  readonly numbers: CommonNumbers;
}

/** What a station's draws say of its errors and its kinds. */
interface StationSays {
  /** draws × c squares of the white error over `white`²; NaN where there is no reading. */
  readonly squares: Float64Array;
  /** Root mean square of its errors over their noise. */
  readonly misfit: number;
  readonly kinds: readonly number[];
  readonly weights: Float64Array;
}

/**
 * Each channel's expected square of its white error over `white`², mass of each kind, and how many
 * stations that rests on: those that fit worse than the others by far count less.
 */
function expectations({ directions, level, found }: LineEnsemble, { sample, numbers }: Sampled) {
  const c = found.white.length;
  const said = stationsSay({ directions, level, found }, { sample, numbers });
  const counts = countsOf(Float64Array.from(said, ({ misfit }) => misfit));
  const sum = new Float64Array(c).fill(IMAGINED);
  const count = new Float64Array(c).fill(IMAGINED);
  const masses = new Float64Array(found.kinds.length);
  for (const [s, { squares, kinds, weights }] of said.entries()) {
    const own = valueAt(counts, s);
    for (const [a, weight] of weights.entries()) masses[kinds[a]!]! += own * weight;
    for (const [at, square] of squares.entries()) {
      if (Number.isNaN(square)) continue;
      sum[at % c]! += (own * square) / DRAWS;
      count[at % c]! += own / DRAWS;
    }
  }
  const stations = counts.reduce((all, one) => all + one, 0);
  return { squares: sum.map((value, d) => value / count[d]!), masses, stations };
}

function stationsSay({ directions, level, found }: LineEnsemble, { sample, numbers }: Sampled) {
  const { white } = found;
  const c = white.length;
  const drawer = new StationDrawer(directions, numbers);
  const out = Array.from({ length: SAMPLE }, () => emptyScreened(MOST_MEMBERS));
  const wanted = new Set(sample);
  const all: StationSays[] = [];
  for (const { screen, stations } of lineScreens(directions, level, found)) {
    const own = stations.filter((i) => wanted.has(i));
    if (own.length === 0) continue;
    const made = screen();
    // The white part's share of the error, and what it leaves open.
    const part = white.map((sd, d) => (sd / made.sd[d]!) ** 2);
    const readings = own.map((i) => level.value.subarray(i * c, (i + 1) * c));
    screenStations(made.screen, readings, { sd: made.sd, reach: REACH, hint: -1, out });
    for (const [s, reading] of readings.entries()) {
      const screened = itemAt(out, s);
      const weights = weightsOf(screened);
      const squares = new Float64Array(DRAWS * c).fill(Number.NaN);
      let [at, whole, errors] = [0, 0, 0];
      drawer.take(reading, { screened, weights, ...made }, ({ error }) => {
        for (let d = 0; d < c; d++, at++) {
          if (Number.isNaN(error[d]!)) continue;
          const square = (error[d]! / made.sd[d]!) ** 2;
          squares[at] = part[d]! * square + 1 - part[d]!;
          whole += square;
          errors += 1;
        }
      });
      const kinds = Array.from(weights, (_, a) => directions.ensemble.kind[screened.member[a]!]!);
      all.push({ squares, misfit: Math.sqrt(whole / errors), kinds, weights });
    }
  }
  return all;
}

/** Stations with readings, evenly spread over the line. */
function sampleOf({ n, value, width, channels }: LineReadings): readonly number[] {
  const known = Array.from({ length: n }, (_, i) => i).filter((i) =>
    value.subarray(i * width, i * width + channels.length).some((one) => !Number.isNaN(one)),
  );
  if (known.length <= SAMPLE) return known;
  const step = known.length / SAMPLE;
  return Array.from({ length: SAMPLE }, (_, s) => known[Math.floor((s + 0.5) * step)]!);
}
