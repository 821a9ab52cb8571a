import type { Findings, SeepageFinding } from "../../chain/findings.js";
import { resistivityRamp } from "../../figures/theme.js";
import type { Survey } from "../../survey/survey.js";
import { field, known, type Layer } from "./layer.js";
import { stretchPlaces } from "./line-places.js";
import { stretchFields, stretchValues } from "./stretch-fields.js";

const gradientAt = (percent: 10 | 50 | 90) =>
  field(`exit_gradient_p${percent}`, "real", [
    `Exit gradient, P${percent}`,
    "Landward, at design water level.",
  ]);

const fields = [
  ...stretchFields,
  field("rank", "integer", ["Rank", "1 has the strongest evidence."]),
  field("band", "text", ["Band", "low, moderate or high."]),
  field("score", "real", ["Score", "Sum of the weights of evidence, log-odds."]),
  field("probability", "real", ["Probability", "The score under the declared weights."]),
  field("evidence", "text", ["Evidence", "Statements, with their weights in log-odds."]),
  gradientAt(10),
  gradientAt(50),
  gradientAt(90),
];

/** Stretches where evidence for a seepage path gathers, by rank. */
export function seepageLayer({ seepage }: Findings, survey: Survey): Layer {
  return {
    name: "seepage_zones",
    title: "Seepage zones",
    description:
      "Stretches where evidence for a seepage path gathers, ranked. For ranking, not a probability " +
      "of failure.",
    geometry: "LineString",
    fields,
    features: seepage.map((zone) => ({
      places: stretchPlaces(survey, zone),
      values: valuesOf(zone),
    })),
    style: {
      by: "band",
      rules: ["high", "moderate", "low"].map((value, i) => ({
        value,
        colour: resistivityRamp[3 * i] ?? "#000000",
      })),
      size_px: 9,
    },
  };
}

/** In the order of the fields. */
function valuesOf(zone: SeepageFinding) {
  return [
    ...stretchValues(zone),
    zone.rank,
    zone.band,
    known(zone.score),
    known(zone.probability),
    zone.evidence
      .map(({ name, weight, statement }) => `${name} (${weight.toFixed(2)}): ${statement}`)
      .join("; "),
    known(zone.exitGradient?.p10),
    known(zone.exitGradient?.p50),
    known(zone.exitGradient?.p90),
  ];
}
