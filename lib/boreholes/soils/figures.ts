import { curveSpec } from "../../figures/curve/curve.js";
import type { CurvePlot } from "../../figures/curve/types.js";
import { type StripPanel, stripSpec } from "../../figures/strip/strip.js";
import { coloursOf } from "../../figures/theme.js";
import { itemAt, valueAt } from "../../numerics/arrays.js";
import { linearBetween } from "../../numerics/functions/linear-between.js";
import { runsWhere } from "../../numerics/runs.js";
import type { Figure } from "../../step/figure.js";
import { sliceText } from "./slice-text.js";
import type { ClassesLeftOut, SoilProperty, Soils } from "./soils.js";

export function soilsFigures(value: Soils): readonly Figure[] {
  return [
    ...value.properties.flatMap((property) => [
      relationFigure(property, value),
      alongFigure(property, value),
    ]),
    ...(value.classes.length > 0 ? [classesFigure(value)] : []),
  ];
}

/** Such as "Fines are told to 12 % by the other boreholes, against 28 % by their mean". */
export function propertyFinding({ name, leftOut }: SoilProperty): string {
  const what = name === "fines" ? "Fines are" : "Water content is";
  const { rms, meanOnlyRms, inside80, count } = leftOut;
  return (
    `${what} told by the other boreholes to ${rms.toFixed(0)} % (root mean square), against ` +
    `${meanOnlyRms.toFixed(0)} % by their mean alone; ${inside80} of ${count} samples lie within ` +
    "their 80 % interval"
  );
}

export function classesFinding({ right, count, commonestRight }: ClassesLeftOut): string {
  return (
    `The kind of soil is told rightly by the other boreholes in ${right} of ${count} slices; the ` +
    `commonest kind alone would be right in ${commonestRight}`
  );
}

function relationFigure(property: SoilProperty, value: Soils): Figure {
  const { name, relation, samples } = property;
  const title = propertyFinding(property);
  const x = samples.map(({ resistivity_ohm_m }) => resistivity_ohm_m);
  const spread = (side: 1 | -1) =>
    samples.map((one) => one.value + shiftBy(relation, one.resistivity_ohm_m, side * one.sd));
  const plot: CurvePlot = {
    label: "",
    series: [
      {
        name: "relation, 80 %",
        form: "line",
        x: relation.resistivity_ohm_m,
        ...{ y: relation.p50, lo: relation.p10, hi: relation.p90 },
      },
      {
        name: "slice at a borehole",
        form: "points",
        x,
        ...{ y: samples.map((one) => one.value), lo: spread(1), hi: spread(-1) },
      },
    ],
  };
  return {
    id: `soils-${idOf(property)}-${value.campaign}`,
    title,
    caption:
      `Laboratory ${name} against the resistivity of the slice beside the borehole` +
      `${value.at25 ? " at 25 °C" : ""}. A point's bar is what the slice's error, one standard deviation ` +
      "either way, moves the relation there. The band holds four samples in five in a block without a borehole.",
    spec: curveSpec({
      title,
      x: { label: `Resistivity${value.at25 ? " at 25 °C" : ""} (ohm-m)`, scale: "log" },
      y: { label: labelOf(property), scale: "linear", withZero: true },
      plots: [plot],
      legend: "",
      colours: SERIES_COLOURS,
    }),
  };
}

/** By how much the relation's middle moves where log10 resistivity is off. */
function shiftBy(
  { resistivity_ohm_m, p50 }: SoilProperty["relation"],
  at_ohm_m: number,
  off: number,
): number {
  const x = resistivity_ohm_m.map(Math.log10);
  const at = Math.log10(at_ohm_m);
  return linearBetween(x, p50, at + off) - linearBetween(x, p50, at);
}

const SERIES_COLOURS = Object.freeze({
  "relation, 80 %": "#332288",
  "slice at a borehole": "#cc6677",
});

const idOf = ({ name }: SoilProperty) => name.replace(" ", "-");
const labelOf = ({ name, unit }: SoilProperty) =>
  `${name[0]?.toUpperCase()}${name.slice(1)} (${unit})`;

function alongFigure(property: SoilProperty, value: Soils): Figure {
  const title = alongFinding(property, value);
  const panels = value.slices.flatMap((slice, k): readonly StripPanel[] => {
    const own = property.samples.filter(({ top_m }) => top_m === slice.top_m);
    return [
      {
        kind: "lines",
        label: `${labelOf(property)}, ${sliceText(slice)}`,
        scale: "linear",
        height_px: 110,
        zeroRule: true,
        legend: "",
        series: [
          {
            name: "predicted",
            x: value.chainage_m,
            y: itemAt(property.p50, k),
            lo: itemAt(property.p10, k),
            hi: itemAt(property.p90, k),
          },
          ...own.map(({ borehole, chainage_m, value: found }) => ({
            name: borehole,
            x: [chainage_m - HALF_MARK_M, chainage_m + HALF_MARK_M],
            y: [found, found],
            colour: "#cc6677",
          })),
        ],
      },
    ];
  });
  return {
    id: `soils-${idOf(property)}-along-${value.campaign}`,
    title,
    caption:
      `What a sample of each reliable slice would give: the middle, and the band that holds four ` +
      "samples in five. Short strokes are the boreholes' own values. The band is narrow where a " +
      "borehole in the same block, or ground of like resistivity elsewhere, tells.",
    spec: stripSpec({ title, panels }),
  };
}

const HALF_MARK_M = 6;

function alongFinding({ name, p10, p90 }: SoilProperty, { chainage_m }: Soils): string {
  let [widest, at] = [0, 0];
  for (const [k, low] of p10.entries()) {
    for (let i = 0; i < low.length; i++) {
      const width = valueAt(itemAt(p90, k), i) - valueAt(low, i);
      if (width > widest) [widest, at] = [width, i];
    }
  }
  const place = valueAt(chainage_m, at).toFixed(0);
  return `What the ${name} may be is widest open about ${place} m: over ${widest.toFixed(0)} %`;
}

/** Runs of the most probable kind by slice, paler where it is not sure. */
function classesFigure(value: Soils): Figure {
  const left = value.classesLeftOut;
  const title = left === null ? "Kinds of soil" : classesFinding(left);
  const soils = value.classes.map(({ soil }) => soil);
  const colours = Object.fromEntries(
    coloursOf(soils).map((colour, c) => [soilName(itemAt(soils, c)), colour]),
  );
  const panels = value.slices.map((slice, k): StripPanel => {
    const kinds = mostProbable(value, k);
    const half_m = (valueAt(value.chainage_m, 1) - valueAt(value.chainage_m, 0)) / 2;
    const stretches = soils.flatMap((soil, c) =>
      runsWhere(kinds, (kind) => kind === c).map(({ first, last }) => ({
        from_m: valueAt(value.chainage_m, first) - half_m,
        to_m: valueAt(value.chainage_m, last) + half_m,
        text: soil,
        group: soilName(soil),
      })),
    );
    const legend = k === 0 ? "Principal fraction" : "";
    return { kind: "stretches", label: sliceText(slice), colours, legend, stretches };
  });
  return {
    id: `soils-kinds-${value.campaign}`,
    title,
    caption:
      "The most probable principal fraction (ISO 14688-1 letters) of each reliable slice, of those " +
      `that boreholes met, where its probability is ${100 * SURE} % or more; elsewhere it is left ` +
      "open.",
    spec: stripSpec({ title, panels }),
  };
}

/** A kind that is less probable than this is not drawn. */
const SURE = 0.6;

/** n numbers of classes; NaN where none is probable enough. */
function mostProbable({ classes, chainage_m }: Soils, slice: number): Float64Array {
  return chainage_m.map((_, i) => {
    const found = classes.findIndex(
      ({ probability }) => valueAt(itemAt(probability, slice), i) >= SURE,
    );
    return found < 0 ? Number.NaN : found;
  });
}

const NAMES: Readonly<Record<string, string>> = {
  Cl: "clay",
  Si: "silt",
  Sa: "sand",
  Gr: "gravel",
  Or: "organic",
};

/** "Sa, sand". */
export function soilName(soil: string): string {
  const name = NAMES[soil];
  return name === undefined ? soil : `${soil}, ${name}`;
}
