// Seeded walks of one bank, some of them misplaced along it as by the GPS bias of the day.
import { seededRandom } from "../../../lib/numerics/random.js";
import { coregistrationCautions } from "../../../lib/place/coregister/account.js";
import type { PassShift } from "../../../lib/place/coregister/pass-shift.js";
import { type PlaceOptions, placeDefaults } from "../../../lib/place/options.js";
import { placeCampaign } from "../../../lib/place/place-campaign.js";
import type { Campaign, Orientation, Pass } from "../../../lib/survey/survey.js";
import { disturbed } from "../../support/disturbed.js";

export interface MisplacedSketch {
  readonly seed: number;
  /** For each walk, how far its positions lie ahead at a chainage, m. */
  readonly ahead_m: readonly ((chainage_m: number) => number)[];
  readonly orientations?: readonly Orientation[];
  readonly length_m?: number;
  /** White error of each position, m. Default 0.3. */
  readonly jitter_m?: number;
}

/**
 * Edges, a narrow conductor and metal at places drawn from the seed; positions as the receiver has
 * them.
 */
export function misplaced(sketch: MisplacedSketch): Campaign {
  const { seed, ahead_m, length_m = 400, jitter_m = 0.3 } = sketch;
  const random = seededRandom(seed + 0.3);
  const campaign = disturbed({
    seed,
    length_m,
    orientations: sketch.orientations ?? ["HCP", "VCP"],
    edges_m: [length_m * (0.25 + 0.5 * random.uniform())],
    conductors_m: [50 + 100 * random.uniform()],
    metal: [{ at_m: 220 + 100 * random.uniform(), size: 5 }],
  });
  const astray = (values: Float64Array, off: (i: number) => number) =>
    values.map((value, i) => value + off(i) + jitter_m * random.normal());
  const passes = campaign.passes.map((pass, p): Pass => {
    const off = (i: number) => ahead_m[p]!(pass.chainage_m[i]!);
    return {
      ...pass,
      resource: `walk-${p + 1}`,
      file: `walk-${p + 1}.csv`,
      easting_m: astray(pass.easting_m, off),
      northing_m: astray(pass.northing_m, () => 0),
    };
  });
  return { ...campaign, passes };
}

/** The campaign placed as `openSurvey` does it. */
export function placed(campaign: Campaign, options: Partial<PlaceOptions> = {}) {
  return placeCampaign(campaign, { ...placeDefaults, ...options });
}

/** The same readings with others in their place. */
export function withValues(
  campaign: Campaign,
  valueAt: (chainage_m: number, normal: () => number) => number,
): Campaign {
  const random = seededRandom(99);
  const passes = campaign.passes.map((pass) => ({
    ...pass,
    values: pass.values.map(() => pass.chainage_m.map((x) => valueAt(x, () => random.normal()))),
  }));
  return { ...campaign, passes };
}

export const none = () => 0;
export const seeds = (first: number, count: number) =>
  Array.from({ length: count }, (_, k) => first + k);

/** The shift of the first pair; fails where there is none. */
export function told({ placement }: ReturnType<typeof placed>): PassShift {
  const { found } = placement.coregistration.pairs[0]!;
  if (typeof found === "string") throw new Error(`no shift: ${found}`);
  return found;
}

export function cautionsOf({ placement }: ReturnType<typeof placed>): string {
  return coregistrationCautions(placement, placeDefaults).join("\n");
}
