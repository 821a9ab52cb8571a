import type { Blocks } from "../../blocks/blocks.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import type { Borehole, Survey } from "../../survey/survey.js";
import { soilClasses } from "./classes.js";
import { type Drilled, FEWEST } from "./drilled.js";
import { type Ground, groundOf } from "./ground.js";
import { meanKernel, priorKernel } from "./hyperparameters.js";
import type { SoilsOptions } from "./options.js";
import { propertiesOf } from "./properties.js";
import type { SoilKernel } from "./soil-kernel.js";
import { momentsOf } from "./soil-model.js";
import type { Soils } from "./soils.js";

export interface SoilsInput {
  readonly survey: Survey;
  readonly slices: DepthSlices;
  readonly blocks: Blocks | null;
}

export function predictedSoils({ survey, slices, blocks }: SoilsInput, used: SoilsOptions): Soils {
  const ground = groundOf(slices, blocks?.blocks ?? [], used.near_m);
  const chainage_m = ground.along(used.step_m);
  const boreholes = besideLine(survey, ground, used.offLine_m);
  const drilled = { ground, boreholes, ...alongBank(ground, chainage_m) };
  const refused = refusal(survey.boreholes.length, drilled);
  const properties = refused === null ? propertiesOf(drilled) : [];
  const classes = refused === null ? soilClasses(drilled) : null;
  const isEmpty = refused === null && properties.length === 0 && classes === null;
  return {
    campaign: slices.campaign,
    refused: isEmpty ? NOTHING_LOGGED : refused,
    boreholes: boreholes.map(({ borehole }) => borehole),
    at25: ground.at25,
    chainage_m,
    slices: ground.slices.map(({ top_m, base_m }) => ({ top_m, base_m })),
    properties: properties.map(({ property }) => property),
    classes: classes?.classes ?? [],
    classesLeftOut: classes?.leftOut ?? null,
    kernel: kernelOf(properties.map(({ kernel }) => kernel)),
    centreline: slices.centreline,
  };
}

const NOTHING_LOGGED = `fewer than ${FEWEST} boreholes hold strata, or laboratory values, over most of a reliable slice`;

/** Boreholes near the walked line, beside an estimate. */
function besideLine(survey: Survey, ground: Ground, offLine_m: number): readonly Borehole[] {
  const line_m = survey.walkedLine?.offset_m ?? 0;
  return survey.boreholes.filter(
    ({ chainage_m, offset_m }) =>
      Math.abs(offset_m - line_m) <= offLine_m &&
      ground.slices.some((_, k) => ground.at(chainage_m, k) !== null),
  );
}

function alongBank(ground: Ground, chainage_m: Float64Array): Pick<Drilled, "places" | "middle"> {
  const places = ground.slices.map((_, k) => Array.from(chainage_m, (x) => ground.at(x, k)));
  const there = places.flat().flatMap((place) => (place === null ? [] : [place.log10Resistivity]));
  return { places, middle: momentsOf(there) };
}

function refusal(all: number, { ground, boreholes, middle }: Drilled): string | null {
  if (ground.slices.length === 0)
    return "no slice is reliable: there is nothing to relate soils to";
  if (boreholes.length < FEWEST) {
    const away = all > boreholes.length ? `, ${all - boreholes.length} more lie off it` : "";
    return (
      `${boreholes.length} of the ${FEWEST} boreholes that are needed lie beside an estimate${away}: ` +
      "two points always lie on a line, so fewer than three cannot show whether one is there"
    );
  }
  return middle.sd > 0 ? null : "resistivity is the same along the whole bank";
}

/** The mean over what was modelled; what is held before any borehole where nothing was. */
function kernelOf(kernels: readonly SoilKernel[]): SoilKernel {
  return kernels.length === 0 ? priorKernel : meanKernel(kernels);
}
