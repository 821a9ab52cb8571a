import type { Findings } from "../../chain/findings.js";
import { greys } from "../../figures/theme.js";
import type { Survey } from "../../survey/survey.js";
import { field, type Layer } from "./layer.js";
import { stretchPlaces } from "./line-places.js";
import { stretchFields, stretchValues } from "./stretch-fields.js";

/** Stretches set aside for metal or structures, those that no note explains among them. */
export function setAsideLayer({ setAside }: Findings, survey: Survey): Layer {
  return {
    name: "set_aside",
    title: "Stretches set aside",
    description: "Stretches whose readings metal or structures distort, by campaign.",
    geometry: "LineString",
    fields: [
      ...stretchFields,
      field("campaign", "text", ["Campaign"]),
      field("cause", "text", [
        "Cause",
        "documented: noted in the field; detected: seen in the readings; both.",
      ]),
      field("object", "text", ["Object", "What was noted; empty where nothing was."]),
      field("channels", "text", ["Channels", "Channels in which the effect shows."]),
      field("readings", "integer", ["Readings", "Readings that the stretch set aside."]),
    ],
    features: setAside.map((stretch) => ({
      places: stretchPlaces(survey, stretch),
      values: [
        ...stretchValues(stretch),
        stretch.campaign,
        stretch.cause,
        stretch.object,
        stretch.channels.join(" "),
        stretch.readings,
      ],
    })),
    style: { rules: [{ value: "set aside", colour: greys.rule }], size_px: 8 },
  };
}
