import type { Findings } from "../../chain/findings.js";
import { classColours } from "../../figures/theme.js";
import { positionAt } from "../../survey/bank/position.js";
import type { Survey } from "../../survey/survey.js";
import { field, known, type Layer } from "./layer.js";

/** Where drilling is proposed, and why. */
export function boreholesLayer({ boreholes }: Findings, { centreline }: Survey): Layer {
  return {
    name: "proposed_boreholes",
    title: "Proposed boreholes",
    description: "Where a borehole would decide the most. Services are to be searched for first.",
    geometry: "Point",
    fields: [
      field("id", "text", ["Borehole"]),
      field("priority", "integer", ["Priority", "1 comes first."]),
      field("chainage_m", "real", ["Chainage (m)"]),
      field("offset_m", "real", ["Offset (m)", "From the centreline, m, positive to the left."]),
      field("depth_m", "real", ["Depth (m)", "Proposed depth below the ground, m."]),
      field("purpose", "text", ["Purpose"]),
      field("reason", "text", ["Reason"]),
    ],
    features: boreholes.map(({ id, priority, chainage_m, offset_m, depth_m, purpose, reason }) => ({
      places: [positionAt(centreline, chainage_m, offset_m)],
      values: [
        id,
        known(priority),
        known(chainage_m),
        known(offset_m),
        known(depth_m),
        purpose,
        reason,
      ],
    })),
    style: { rules: [{ value: "borehole", colour: classColours[5] ?? "#000000" }], size_px: 9 },
  };
}
