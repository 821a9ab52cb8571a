import { criticalErosionHead } from "../../earth/backward-erosion.js";
import { type BlanketSection, blanketSeepage } from "../../earth/blanket.js";
import { creepRatio } from "../../earth/creep-ratio.js";
import { valueAt } from "../../numerics/arrays.js";
import { Remembered } from "../../numerics/functions/remembered.js";
import { seededRandom } from "../../numerics/random.js";
import { normalPoint } from "../../numerics/statistics/normal.js";
import { quantile } from "../../numerics/statistics/robust.js";
import type { Survey } from "../../survey/survey.js";
import type { Base, Quantiles, StretchHydraulics } from "./judged-stretch.js";
import type { HydraulicOptions } from "./options.js";
import { inputShares } from "./spread-shares.js";
import { type CommonName, type StretchInputs, sourcesAt } from "./stretch-inputs.js";
import type { ThicknessField } from "./thickness-field.js";
import { reliabilities } from "./told-apart.js";

const COMMON: readonly CommonName[] = [
  "blanket conductivity",
  "aquifer conductivity",
  "waterside length",
  "landside length",
  "unit weight",
  "grain size",
];
export const INPUT_NAMES = [
  "blanket thickness",
  "aquifer thickness",
  ...COMMON,
  "landside end",
] as const;
export type InputName = (typeof INPUT_NAMES)[number];

interface DrawnOptions extends HydraulicOptions {
  readonly seed: number;
}

/**
 * Exit gradients and safeties of stretches, by seeded draws of what is not known: the thicknesses
 * of each stretch from what was seen near it, everything else the same all along the bank, so that
 * what stretches have in common does not part them. Null where a stretch has no head or no
 * cross-section.
 */
export function stretchHydraulics(
  inputs: StretchInputs,
  used: DrawnOptions,
): readonly (StretchHydraulics | null)[] {
  const draws = drawsFor(inputs, used);
  const told = reliabilities(inputs);
  return inputs.base.map((base, i) => {
    if (base === null) return null;
    const place = {
      ...base,
      blanket: thicknessAt(inputs.blanket, i),
      aquifer: thicknessAt(inputs.aquifer, i),
    };
    return {
      ...base,
      ...draws.known.get(JSON.stringify(place), () => hydraulicsAt(place, draws)),
      told: valueAt(told, i),
      sources: sourcesAt(inputs, valueAt(inputs.chainage_m, i)),
    };
  });
}

/** All in which one stretch differs from another. */
interface Place extends Base {
  readonly blanket: LogThickness;
  readonly aquifer: LogThickness;
}

/** Mean and standard deviation of the logarithm of a thickness in m. */
interface LogThickness {
  readonly mean: number;
  readonly sd: number;
}

const thicknessAt = ({ mean, sd }: ThicknessField, i: number): LogThickness => ({
  mean: valueAt(mean, i),
  sd: valueAt(sd, i),
});

/** Draws by survey and options: what other evidence is weighed with asks for the same ones. */
const kept = new WeakMap<Survey, Map<string, Draws>>();
const MOST_PLACES = 4000;

function drawsFor(inputs: StretchInputs, used: DrawnOptions): Draws {
  const bySurvey = kept.get(inputs.survey) ?? new Map<string, Draws>();
  kept.set(inputs.survey, bySurvey);
  const text = JSON.stringify(used);
  const draws = bySurvey.get(text) ?? drawsOf(inputs, used);
  bySurvey.set(text, draws);
  return draws;
}

function drawsOf(inputs: StretchInputs, used: DrawnOptions): Draws {
  const random = seededRandom(used.seed);
  const chances = Array.from({ length: used.draws }, () =>
    Float64Array.from(INPUT_NAMES, () => random.uniform()),
  );
  return {
    drawn: chances.map((chance) => drawnOf(inputs, chance)),
    work: columnsOf(used.draws),
    sharesOf: inputShares(INPUT_NAMES, chances),
    known: new Remembered(MOST_PLACES),
  };
}

interface Draws {
  readonly drawn: readonly Drawn[];
  /** What a stretch's draws come to, written anew for each. */
  readonly work: ReturnType<typeof columnsOf>;
  readonly sharesOf: ReturnType<typeof inputShares>;
  /** What places came to. */
  readonly known: Remembered<DrawnHydraulics>;
}

type DrawnHydraulics = Omit<StretchHydraulics, keyof Base | "told" | "sources">;

function columnsOf(draws: number) {
  const column = () => new Float64Array(draws);
  const [exit, safety, erosion] = [column(), column(), column()];
  return { exit, safety, erosion, blanket: column(), aquifer: column() };
}

function hydraulicsAt(place: Place, { drawn, work, sharesOf }: Draws): DrawnHydraulics {
  const { exit, safety, erosion, blanket, aquifer } = work;
  for (const [n, draw] of drawn.entries()) {
    const section = sectionAt(place, draw);
    const found = blanketSeepage(section);
    exit[n] = found.exitGradient;
    safety[n] = found.safety;
    erosion[n] = erosionOver(section, draw.d70_m);
    blanket[n] = section.blanketThickness_m;
    aquifer[n] = section.aquiferThickness_m;
  }
  const blanket_m = quantilesOf(blanket);
  return {
    exitGradient: quantilesOf(exit),
    safety: quantilesOf(safety),
    erosionSafety: quantilesOf(erosion),
    creep: creepRatio({
      vertical_m: blanket_m.p50,
      horizontal_m: place.baseWidth_m,
      head_m: place.head_m,
    }),
    blanket_m,
    aquifer_m: quantilesOf(aquifer),
    shares: sharesOf(exit),
  };
}

/**
 * One draw of all that is the same along the bank, and how far thicknesses lie from their means.
 */
interface Drawn
  extends Omit<
    BlanketSection,
    "head_m" | "baseWidth_m" | "blanketThickness_m" | "aquiferThickness_m"
  > {
  /** Standard deviations below the mean of the logarithm. */
  readonly blanketBelow: number;
  readonly aquiferBelow: number;
  readonly d70_m: number;
}

function drawnOf({ common }: StretchInputs, chance: Float64Array): Drawn {
  const chanceOf = (name: InputName) => valueAt(chance, INPUT_NAMES.indexOf(name));
  const of = (name: CommonName) => common[name].at(chanceOf(name));
  return {
    blanketBelow: normalPoint(inside(chanceOf("blanket thickness"))),
    aquiferBelow: normalPoint(inside(chanceOf("aquifer thickness"))),
    blanketConductivity_m_per_s: of("blanket conductivity"),
    aquiferConductivity_m_per_s: of("aquifer conductivity"),
    watersideLength_m: of("waterside length"),
    landsideLength_m: of("landside length"),
    landside: chanceOf("landside end") < 0.5 ? "blocked" : "open",
    saturatedUnitWeight_kN_per_m3: of("unit weight"),
    d70_m: of("grain size"),
  };
}

function sectionAt({ head_m, baseWidth_m, blanket, aquifer }: Place, draw: Drawn): BlanketSection {
  const thickness = ({ mean, sd }: LogThickness, below: number) => Math.exp(mean - sd * below);
  return {
    head_m,
    baseWidth_m,
    blanketThickness_m: thickness(blanket, draw.blanketBelow),
    aquiferThickness_m: thickness(aquifer, draw.aquiferBelow),
    blanketConductivity_m_per_s: draw.blanketConductivity_m_per_s,
    aquiferConductivity_m_per_s: draw.aquiferConductivity_m_per_s,
    watersideLength_m: draw.watersideLength_m,
    landsideLength_m: draw.landsideLength_m,
    landside: draw.landside,
    saturatedUnitWeight_kN_per_m3: draw.saturatedUnitWeight_kN_per_m3,
  };
}

const inside = (share: number) => Math.min(1 - 1e-9, Math.max(1e-9, share));

/** The way of the water under the bank is the width of its base. */
function erosionOver(section: BlanketSection, d70_m: number): number {
  const critical_m = criticalErosionHead({
    length_m: section.baseWidth_m,
    aquiferThickness_m: section.aquiferThickness_m,
    conductivity_m_per_s: section.aquiferConductivity_m_per_s,
    d70_m,
  });
  return critical_m / section.head_m;
}

function quantilesOf(values: Float64Array): Quantiles {
  return { p10: quantile(values, 0.1), p50: quantile(values, 0.5), p90: quantile(values, 0.9) };
}
