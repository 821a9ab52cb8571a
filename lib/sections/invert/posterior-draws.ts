import { seededRandom } from "../../numerics/random.js";
import { median } from "../../numerics/statistics/robust.js";
import type { Turn } from "../model/section-model.js";
import type { Inverted } from "./gauss-newton.js";
import { type SectionDraw, type SectionPrior, sweep } from "./sampler.js";

/** Draws of ln ρ and the strengths in their middle. */
export interface PosteriorDraws {
  readonly logResistivity: readonly Float64Array[];
  /** Median strengths over the draws, the local ones their mean. */
  readonly strengths: SectionDraw;
}

export interface DrawSettings {
  readonly draws: number;
  readonly seed: number;
  readonly noise: "found" | "stated";
  readonly turn: Turn;
}

/** Sweeps before the first draw; the sampler starts where the last step left it. */
const WARM_UP = 10;
const PER_TURN = 10;

/** Draws of the posterior in the linear form about the last section, two a sweep. */
export async function posteriorDraws(
  { form, draw: start }: Inverted,
  prior: SectionPrior,
  { draws, seed, noise, turn }: DrawSettings,
): Promise<PosteriorDraws> {
  const random = seededRandom(seed + 1);
  const kept: SectionDraw[] = [];
  const settings = { random, heldNoise: noise === "stated" ? 1 : null };
  let draw: SectionDraw = { ...start, noise: noise === "stated" ? 1 : start.noise };
  for (let s = 0; s < WARM_UP + draws / 2; s++) {
    draw = sweep(form, prior, { ...settings, from: draw });
    if (s >= WARM_UP) kept.push(draw);
    if (s % PER_TURN === 0) await turn();
  }
  return {
    logResistivity: kept.flatMap(({ logResistivity, twin }) => [logResistivity, twin]),
    strengths: middleOf(kept, draw),
  };
}

function middleOf(draws: readonly SectionDraw[], last: SectionDraw): SectionDraw {
  const middle = (of: (draw: SectionDraw) => number) => median(draws.map(of));
  const local = last.local.map((_, f) => {
    return draws.reduce((sum, draw) => sum + draw.local[f]!, 0) / draws.length;
  });
  return {
    ...last,
    local,
    variance: [middle(({ variance }) => variance[0]), middle(({ variance }) => variance[1])],
    noise: middle(({ noise }) => noise),
  };
}
