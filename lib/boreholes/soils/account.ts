import type { StepReport } from "../../step/define-step.js";
import type { Basis } from "../../step/step-account.js";
import { classesFinding, propertyFinding, soilsFigures } from "./figures.js";
import type { Soils } from "./soils.js";
import { soilsTables } from "./tables.js";

/** What `predictSoils` says of itself. */
export function soilsReport(value: Soils): StepReport<Soils> {
  return {
    value,
    summary: summaryOf(value),
    basis: value.refused === null ? BASIS : [],
    cautions: cautionsOf(value),
    figures: soilsFigures(value),
    tables: soilsTables(value),
  };
}

function summaryOf(value: Soils): string {
  if (value.refused !== null) return `Soils are not predicted: ${value.refused}.`;
  const properties = value.properties.map((property) => `${propertyFinding(property)}.`);
  const classes = value.classesLeftOut === null ? [] : [`${classesFinding(value.classesLeftOut)}.`];
  return [...properties, ...classes].join(" ");
}

const BASIS: readonly Basis[] = [
  {
    statement:
      "A Gaussian process along chainage with a straight relation to log10 resistivity; its " +
      "hyperparameters are weighed by their marginal likelihood.",
    source: "Rasmussen & Williams 2006, chapters 2 and 5",
  },
  {
    statement: "Slices are posterior means: the ground scatters about them and widens the bands.",
    source: "Berkson 1950",
  },
  {
    statement: "Kinds of soil by the share of their principal fraction, told as indicators.",
    source: "Journel 1983; ISO 14688-1",
  },
];

function cautionsOf(value: Soils): readonly string[] {
  if (value.refused !== null) {
    return [
      `No soil is predicted along the bank: ${value.refused}. Published ranges of resistivity ` +
        "overlap and do not take a borehole's place.",
    ];
  }
  return [
    "The relation between resistivity and soil holds for this bank, this water and the " +
      `${value.boreholes.length} boreholes it is made from; ground that none of them met is not ` +
      "foreseen. It does not tell how well the ground passes water.",
    ...(value.at25
      ? []
      : [
          "Without soil temperatures at the time of the walk, soils are related to resistivities " +
            "at field temperature: the relation holds for this campaign only.",
        ]),
    ...value.properties
      .filter(isOfNoUse)
      .map(
        ({ name }) =>
          `For ${name}, the mean of the other boreholes does as well as resistivity and place: ` +
          "do not read its curve as more than its band.",
      ),
    ...(value.slices.length > 0 && value.properties.length === 0
      ? ["No laboratory values over most of a reliable slice in three boreholes: strata alone."]
      : []),
  ];
}

const isOfNoUse = ({ leftOut }: Soils["properties"][number]) =>
  !(leftOut.rms < 0.9 * leftOut.meanOnlyRms);
