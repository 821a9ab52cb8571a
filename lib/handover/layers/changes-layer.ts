import type { Findings } from "../../chain/findings.js";
import { directionColours } from "../../figures/theme.js";
import type { Survey } from "../../survey/survey.js";
import { field, known, type Layer } from "./layer.js";
import { stretchPlaces } from "./line-places.js";
import { stretchFields, stretchValues } from "./stretch-fields.js";

/** Where the ground changed between two campaigns. */
export function changesLayer({ changes }: Findings, survey: Survey): Layer {
  return {
    name: "changes",
    title: "Changes between campaigns",
    description: "Stretches whose resistivity, at 25 °C, differs between two campaigns.",
    geometry: "LineString",
    fields: [
      ...stretchFields,
      field("earlier", "text", ["Earlier campaign"]),
      field("later", "text", ["Later campaign"]),
      field("direction", "text", ["Resistivity", "fell or rose."]),
      field("ratio", "real", ["Later / earlier", "Resistivity later over earlier, at 25 °C."]),
      field("ratio_lo", "real", ["Ratio, low", "Low end of the ratio's 90 % interval."]),
      field("ratio_hi", "real", ["Ratio, high", "High end of the ratio's 90 % interval."]),
      field("q", "real", ["q", "p-value, adjusted for all that was tried."]),
      field("slices", "text", ["Slices (m)", "Depth slices in which it shows, m."]),
    ],
    features: changes.map((change) => ({
      places: stretchPlaces(survey, change),
      values: [
        ...stretchValues(change),
        change.earlier,
        change.later,
        change.direction,
        known(change.ratio),
        known(change.ratioInterval?.[0]),
        known(change.ratioInterval?.[1]),
        known(change.q),
        change.slices.join(", "),
      ],
    })),
    style: {
      by: "direction",
      rules: Object.entries(directionColours).map(([value, colour]) => ({ value, colour })),
      size_px: 5,
    },
  };
}
