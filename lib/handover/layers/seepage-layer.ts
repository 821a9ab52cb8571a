import type { Findings } from "../../chain/findings.js";
import { resistivityRamp } from "../../figures/theme.js";
import type { Survey } from "../../survey/survey.js";
import { field, known, type Layer } from "./layer.js";
import { stretchPlaces } from "./line-places.js";
import { stretchFields, stretchValues } from "./stretch-fields.js";

/** Stretches where evidence for a seepage path gathers, by rank. */
export function seepageLayer({ seepage }: Findings, survey: Survey): Layer {
  return {
    name: "seepage_zones",
    title: "Seepage zones",
    description:
      "Stretches where evidence for a seepage path gathers, ranked. For ranking, not a probability " +
      "of failure.",
    geometry: "LineString",
    fields: [
      ...stretchFields,
      field("rank", "integer", ["Rank", "1 has the strongest evidence."]),
      field("band", "text", ["Band", "low, moderate or high."]),
      field("score", "real", ["Score", "Sum of the weights of evidence, log-odds."]),
      field("probability", "real", ["Probability", "The score under the declared weights."]),
      field("evidence", "text", ["Evidence", "Statements, with their weights in log-odds."]),
      field("exit_gradient_p10", "real", [
        "Exit gradient, P10",
        "Landward, at design water level.",
      ]),
      field("exit_gradient_p50", "real", [
        "Exit gradient, P50",
        "Landward, at design water level.",
      ]),
      field("exit_gradient_p90", "real", [
        "Exit gradient, P90",
        "Landward, at design water level.",
      ]),
    ],
    features: seepage.map((zone) => ({
      places: stretchPlaces(survey, zone),
      values: [
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
      ],
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
