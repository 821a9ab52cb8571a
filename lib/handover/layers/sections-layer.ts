import type { Findings } from "../../chain/findings.js";
import { classColours } from "../../figures/theme.js";
import { positionAt } from "../../survey/bank/position.js";
import type { Grid } from "../../survey/bank/projection.js";
import type { ResistivityLine, Survey } from "../../survey/survey.js";
import { field, known, type Layer } from "./layer.js";

/** Where the resistivity lines lay, inverted or not. */
export function sectionsLayer({ sections }: Findings, survey: Survey): Layer {
  return {
    name: "section_traces",
    title: "Traces of resistivity sections",
    description: "Electrode lines; where one was inverted, how well the section is known.",
    geometry: "LineString",
    fields: [
      field("line", "text", ["Line"]),
      field("runs", "text", ["Runs", "along or across the bank."]),
      field("chainage_m", "real", ["Chainage (m)", "Of the line's x = 0, m."]),
      field("offset_m", "real", ["Offset (m)", "Of the line's x = 0, m, positive to the left."]),
      field("electrodes", "integer", ["Electrodes"]),
      field("readings", "integer", ["Readings", "Empty where the line was not inverted."]),
      field("rejected", "integer", ["Rejected", "Readings that the section does not rest on."]),
      field("rms", "real", ["Misfit", "Normalised; 1 where readings fit to their errors."]),
      field("iterations", "integer", ["Iterations"]),
      field("reliable_to_m", "real", ["Reliable to (m)", "Depth below the surface, m."]),
    ],
    features: survey.resistivityLines.map((line) => {
      const found = sections.find((section) => section.line === line.line);
      return {
        places: trace(line, survey),
        values: [
          line.line,
          line.runs,
          known(line.chainage_m),
          known(line.offset_m),
          line.electrodes.length,
          known(found?.readings),
          known(found?.rejected),
          known(found?.rms),
          known(found?.iterations),
          known(found?.reliableTo_m),
        ],
      };
    }),
    style: { rules: [{ value: "section", colour: classColours[6] ?? "#000000" }], size_px: 3 },
  };
}

/**
 * Along: x grows with chainage. Across: toward the waterside, where the survey says which it is.
 */
function trace(line: ResistivityLine, { centreline, waterside }: Survey): readonly Grid[] {
  const x_m = line.electrodes.map((electrode) => electrode.x_m).sort((a, b) => a - b);
  if (x_m.length < 2) return [];
  if (line.runs === "across") {
    if (waterside === null) return [];
    const left = waterside === "left" ? 1 : -1;
    return x_m.map((x) => positionAt(centreline, line.chainage_m, line.offset_m + left * x));
  }
  return x_m.map((x) => positionAt(centreline, line.chainage_m + x, line.offset_m));
}
