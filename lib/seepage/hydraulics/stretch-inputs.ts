import { valueAt } from "../../numerics/arrays.js";
import { presentMean } from "../../numerics/statistics/present.js";
import type { CrossSection, Survey } from "../../survey/survey.js";
import type { ToeBlanket } from "../evidence/toe-blanket.js";
import type { Base } from "./judged-stretch.js";
import { loggedStrata, type ThicknessSeen } from "./logged.js";
import type { HydraulicOptions } from "./options.js";
import { declaredRange, permeability, type Unknown } from "./permeability.js";
import { nearestSeen, type ThicknessField, thicknessField } from "./thickness-field.js";

/** What the stretches' gradients are drawn from. */
export interface StretchInputs {
  readonly survey: Survey;
  /** n middles of stretches, m. */
  readonly chainage_m: Float64Array;
  /** Null where the water level or the cross-section is not known, or there is no head. */
  readonly base: readonly (Base | null)[];
  readonly blanket: ThicknessField;
  readonly aquifer: ThicknessField;
  /** The same all along the bank. */
  readonly common: Readonly<Record<CommonName, Unknown>>;
}

export type CommonName =
  | "blanket conductivity"
  | "aquifer conductivity"
  | "waterside length"
  | "landside length"
  | "unit weight"
  | "grain size";

interface Known {
  readonly survey: Survey;
  readonly toe: ToeBlanket | null;
}

export function stretchInputs(
  chainage_m: Float64Array,
  { survey, toe }: Known,
  used: HydraulicOptions,
): StretchInputs {
  const { boreholes, crossSectionAt, designWaterLevel_m } = survey;
  const { correlation_m } = used;
  const logged = loggedStrata(boreholes, crossSectionAt);
  const seen = [...logged.blanket, ...(toe === null ? [] : seenAtToe(toe))];
  const field = (found: readonly ThicknessSeen[], range: HydraulicOptions["blanketThickness_m"]) =>
    thicknessField(chainage_m, found, { range, correlation_m });
  const base_m = (hole: (typeof boreholes)[number]) => {
    const foot_m = crossSectionAt(hole.chainage_m).foundationElevation_m;
    return foot_m === null ? 0 : hole.elevation_m - foot_m;
  };
  const lab = (kind: "fine" | "coarse", range: HydraulicOptions["landside_m"]) =>
    permeability(boreholes, kind, { range, base_m });
  return {
    survey,
    chainage_m,
    base: Array.from(chainage_m, (x) => baseOf(crossSectionAt(x), designWaterLevel_m)),
    blanket: field(seen, used.blanketThickness_m),
    aquifer: field(logged.aquifer, used.aquiferThickness_m),
    common: {
      "blanket conductivity": lab("fine", used.blanketConductivity_m_per_s),
      "aquifer conductivity": lab("coarse", used.aquiferConductivity_m_per_s),
      "waterside length": declaredRange(used.riverside_m),
      "landside length": declaredRange(used.landside_m),
      "unit weight": declaredRange(used.saturatedUnitWeight_kN_per_m3),
      "grain size": declaredRange(used.d70_m),
    },
  };
}

/** Head at design level over the ground at the toe, and the width of the bank's base. */
export function baseOf(section: CrossSection, designWaterLevel_m: number | null): Base | null {
  const { crestWidth_m, crestElevation_m, foundationElevation_m } = section;
  const { watersideSlope, landsideSlope } = section;
  if (crestWidth_m === null || crestElevation_m === null || foundationElevation_m === null) {
    return null;
  }
  if (watersideSlope === null || landsideSlope === null || designWaterLevel_m === null) return null;
  const head_m = designWaterLevel_m - foundationElevation_m;
  const height_m = crestElevation_m - foundationElevation_m;
  if (!(head_m > 0) || !(height_m > 0)) return null;
  return { head_m, baseWidth_m: crestWidth_m + height_m * (watersideSlope + landsideSlope) };
}

/**
 * Readings beside each other share their errors: one thickness for so many metres of the toe line.
 */
const TOE_STEP_M = 10;
/** What two levels of resistivity leave open, of the logarithm: at each place, and all along. */
const TOE_MODEL_LN_SD = { own: 0.1, shared: 0.17 };

function seenAtToe({ line, chainage_m, draws }: ToeBlanket): readonly ThicknessSeen[] {
  const groups = new Map<number, number[]>();
  for (const [i, x] of chainage_m.entries()) {
    const at = Math.floor(x / TOE_STEP_M);
    groups.set(at, [...(groups.get(at) ?? []), i]);
  }
  return [...groups.values()].flatMap((stations): ThicknessSeen[] => {
    const ln = draws.map((draw) => presentMean(stations.map((i) => Math.log(valueAt(draw, i)))));
    const mean = presentMean(ln);
    if (Number.isNaN(mean)) return [];
    const spread = Math.sqrt(presentMean(ln.map((value) => (value - mean) ** 2)));
    const middle = presentMean(stations.map((i) => valueAt(chainage_m, i)));
    const { own, shared: sharedLnSd } = TOE_MODEL_LN_SD;
    const lnSd = Math.hypot(spread, own, sharedLnSd);
    const from = `line ${line}`;
    return [{ chainage_m: middle, thickness_m: Math.exp(mean), lnSd, sharedLnSd, from }];
  });
}

/** In words: where the numbers of a stretch come from. */
export function sourcesAt(inputs: StretchInputs, x: number): string {
  const { blanket, aquifer, common } = inputs;
  const k = common["blanket conductivity"].source;
  const sand = common["aquifer conductivity"].source;
  return (
    `blanket: ${nearestSeen(blanket, x) ?? "declared range"}; ` +
    `aquifer: ${nearestSeen(aquifer, x) ?? "declared range"}; ` +
    `conductivities: ${k} (blanket), ${sand} (aquifer); lengths: declared ranges`
  );
}
