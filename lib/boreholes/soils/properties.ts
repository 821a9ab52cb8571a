import { itemAt } from "../../numerics/arrays.js";
import { NORMAL_90 } from "../../numerics/statistics/normal.js";
import { extent } from "../../numerics/statistics/present.js";
import type { LaboratoryValue } from "../../survey/survey.js";
import { boreholesIn, type Drilled, FEWEST, samplesOf } from "./drilled.js";
import type { Told } from "./gaussian-process.js";
import { laboratoryMean } from "./logged.js";
import type { SoilKernel, SoilPlace } from "./soil-kernel.js";
import { type SoilModel, soilModel } from "./soil-model.js";
import type { PropertyRelation, SoilProperty, SoilSample } from "./soils.js";

/** A laboratory value and the scale on which it is modelled. */
interface Quantity {
  readonly name: SoilProperty["name"];
  readonly of: (sample: LaboratoryValue) => number | null;
  readonly to: (value: number) => number;
  readonly from: (modelled: number) => number;
}

/** Fines on a scale of log-odds, held off 0 and 100 %; water content on a log scale. */
const QUANTITIES: readonly Quantity[] = [
  {
    name: "fines",
    of: ({ fines_pct }) => fines_pct,
    to: (value) => {
      const share = Math.min(0.99, Math.max(0.01, value / 100));
      return Math.log(share / (1 - share));
    },
    from: (modelled) => 100 / (1 + Math.exp(-modelled)),
  },
  {
    name: "water content",
    of: ({ water_content_pct }) => water_content_pct,
    to: (value) => Math.log(Math.max(value, 0.1)),
    from: Math.exp,
  },
];

export interface ModelledProperty {
  readonly property: SoilProperty;
  readonly kernel: SoilKernel;
}

/** Every laboratory value that three boreholes or more hold. */
export function propertiesOf(drilled: Drilled): readonly ModelledProperty[] {
  return QUANTITIES.flatMap((quantity) => {
    const samples = samplesOf(drilled, (hole, k) =>
      laboratoryMean(hole, itemAt(drilled.ground.slices, k), quantity.of),
    );
    return boreholesIn(samples) < FEWEST ? [] : [modelled(drilled, quantity, samples)];
  });
}

type Samples = ReturnType<typeof samplesOf<number>>;

function modelled(drilled: Drilled, quantity: Quantity, samples: Samples): ModelledProperty {
  const model = soilModel(
    {
      places: samples.map(({ place }) => place),
      value: Float64Array.from(samples, ({ value }) => quantity.to(value)),
      borehole: samples.map(({ hole }) => hole.borehole),
    },
    drilled.middle,
  );
  const along = drilled.places.map((row) => row.map((place) => place && model.at(place)));
  const at = (z: number) =>
    along.map((row) =>
      Float64Array.from(row, (one) => (one === null ? Number.NaN : point(quantity, one, z))),
    );
  const property: SoilProperty = {
    name: quantity.name,
    unit: "%",
    samples: samples.map((_, i) => sampleOf(samples, i, { model, quantity })),
    leftOut: leftOutOf(samples, model, quantity),
    slope: model.slope,
    relation: relationOf(drilled, model, quantity),
    p10: at(-NORMAL_90),
    p50: at(0),
    p90: at(NORMAL_90),
  };
  return { property, kernel: model.kernel };
}

const point = ({ from }: Quantity, { mean, sd }: Told, z: number) => from(mean + z * sd);

interface Modelling {
  readonly model: SoilModel;
  readonly quantity: Quantity;
}

function sampleOf(samples: Samples, i: number, { model, quantity }: Modelling): SoilSample {
  const { hole, slice, place, value } = itemAt(samples, i);
  const others = itemAt(model.leftOut, i);
  return {
    borehole: hole.borehole,
    chainage_m: hole.chainage_m,
    top_m: slice.top_m,
    base_m: slice.base_m,
    resistivity_ohm_m: 10 ** place.log10Resistivity,
    sd: place.sd,
    value,
    others: {
      p10: point(quantity, others, -NORMAL_90),
      p50: point(quantity, others, 0),
      p90: point(quantity, others, NORMAL_90),
    },
  };
}

function leftOutOf(samples: Samples, model: SoilModel, quantity: Quantity) {
  const rms = (tellings: readonly Told[]) => {
    const squares = samples.map(
      ({ value }, i) => (value - quantity.from(itemAt(tellings, i).mean)) ** 2,
    );
    return Math.sqrt(squares.reduce((sum, one) => sum + one, 0) / squares.length);
  };
  const inside = samples.filter(({ value }, i) => {
    const { mean, sd } = itemAt(model.leftOut, i);
    return Math.abs(quantity.to(value) - mean) <= NORMAL_90 * sd;
  });
  return {
    rms: rms(model.leftOut),
    meanOnlyRms: rms(model.meanOnly),
    inside80: inside.length,
    count: samples.length,
  };
}

const POINTS = 40;

/** At the samples' middle depth, far from every borehole and in a block of its own. */
function relationOf(drilled: Drilled, model: SoilModel, quantity: Quantity): PropertyRelation {
  const all = drilled.places.flat().filter((place): place is SoilPlace => place !== null);
  const { least, most } = extent(all.map((place) => place.log10Resistivity));
  const middle = (of: (place: SoilPlace) => number) =>
    all.reduce((sum, place) => sum + of(place), 0) / all.length;
  const elsewhere = {
    chainage_m: Number.MAX_SAFE_INTEGER,
    depth_m: middle(({ depth_m }) => depth_m),
    block: Number.NaN,
    sd: middle(({ sd }) => sd),
  };
  const tellings = Array.from({ length: POINTS }, (_, i) =>
    model.at({ ...elsewhere, log10Resistivity: least + ((most - least) * i) / (POINTS - 1) }),
  );
  const step = (most - least) / (POINTS - 1);
  const column = (z: number) => Float64Array.from(tellings, (one) => point(quantity, one, z));
  return {
    resistivity_ohm_m: Float64Array.from(tellings, (_, i) => 10 ** (least + step * i)),
    p10: column(-NORMAL_90),
    p50: column(0),
    p90: column(NORMAL_90),
  };
}
