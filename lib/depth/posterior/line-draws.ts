import { seededRandom } from "../../numerics/random.js";
import type { LineReadings } from "../data/line-readings.js";
import { EarthSource } from "../prior/earth-source.js";
import { writeLayerMeans } from "../prior/layer-means.js";
import { triedEarths } from "../prior/tried-earths.js";
import { commonNumbers } from "./common-numbers.js";
import { drawStations } from "./draw-stations.js";
import { foundEnsemble } from "./found-ensemble.js";
import { withOwnNoise } from "./ill-explained.js";
import { type DrawSettings, emptyDraws } from "./line-drawer.js";

/** Columns that stand for the prior. */
const PRIOR_COLUMNS = 2000;

/**
 * Draws of the layered earth under every station, from a broad ensemble of earths whose responses
 * are computed once for the instrument. Each member is the centre of a Gaussian (its layers and the
 * coils' height), weighted at each station by its marginal likelihood and by its kind; weights of
 * the kinds and noise of the channels are found from the line. No model is iterated, so contrasts,
 * thin layers and resistivities that the data bound from one side only keep their spread. Draws of
 * neighbours share their random numbers, so that a draw is a whole line. Stations that no ground
 * explains, as over metal along the line, tell nothing of the others' noise, and are drawn again with
 * a noise of their own.
 *
 * Source: Doucet, de Freitas & Gordon 2001 (weighted samples); Anderson & Moore 1979, section 8.4
 * (Gaussian sums); both from memory.
 */
export async function lineDraws(readings: LineReadings, settings: DrawSettings) {
  const random = seededRandom(settings.seed);
  const line = await foundEnsemble(readings, settings.seed, random);
  const { level, found } = line;
  const out = emptyDraws(readings, settings);
  const drawing = { line, numbers: commonNumbers(settings.draws, level, random), out };
  await drawStations(drawing, settings);
  const own = withOwnNoise(level, found, out.squares);
  if (own.stations.size > 0) {
    // The misfit that is handed on stays the one in the noise of the line.
    const { squares, residual } = { squares: out.squares.slice(), residual: out.residual.slice() };
    const wanted = (i: number) => own.stations.has(i);
    await drawStations(
      { ...drawing, line: { ...line, level: own.level } },
      { wanted, progress: null },
    );
    out.squares.set(squares);
    out.residual.set(residual);
  }
  const prior = priorColumns(found.kinds, settings);
  const { height_m } = line.directions.responses;
  return { draws: { ...out, prior, found }, line: { level, found, height_m } };
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
