import type { Findings } from "../../chain/findings.js";
import { classColour } from "../../figures/theme.js";
import type { Survey } from "../../survey/survey.js";
import { field, known, type Layer, type LayerField } from "./layer.js";
import { stretchPlaces } from "./line-places.js";
import { stretchFields, stretchValues } from "./stretch-fields.js";

/** Stretches of like ground, with the interval of each boundary and resistivity by slice. */
export function blocksLayer({ blocks }: Findings, survey: Survey): Layer {
  const most = Math.max(0, ...blocks.map((block) => block.resistivity_ohm_m.length));
  const slices = Array.from({ length: most }, (_, i) => i);
  const classes = [...new Set(blocks.map((block) => block.class))].sort();
  return {
    name: "blocks",
    title: "Blocks",
    description:
      "Stretches in which the bank is of like ground; resistivity by depth slice at field temperature.",
    geometry: "LineString",
    fields: [...stretchFields, ...blockFields, ...slices.flatMap(sliceFields)],
    features: blocks.map((block) => ({
      places: stretchPlaces(survey, block),
      values: [
        ...stretchValues(block),
        block.id,
        block.class,
        ...block.fromInterval_m,
        ...block.toInterval_m,
        block.readings,
        known(block.masked_pct),
        ...slices.flatMap((i) => sliceValues(block, i)),
      ],
    })),
    style: {
      by: "class",
      rules: classes.map((value, place) => ({ value, colour: classColour(place) })),
      size_px: 6,
    },
  };
}

const blockFields: readonly LayerField[] = [
  field("id", "text", ["Block"]),
  field("class", "text", ["Class", "One letter for similar ground, from conductive to resistive."]),
  field("from_lo_m", "real", ["Start, low (m)", "Low end of the start's 90 % interval, m."]),
  field("from_hi_m", "real", ["Start, high (m)", "High end of the start's 90 % interval, m."]),
  field("to_lo_m", "real", ["End, low (m)", "Low end of the end's 90 % interval, m."]),
  field("to_hi_m", "real", ["End, high (m)", "High end of the end's 90 % interval, m."]),
  field("readings", "integer", ["Readings", "Readings in use within the block."]),
  field("masked_pct", "real", ["Set aside (%)", "Share of its length without an estimate, %."]),
];

function sliceFields(i: number): readonly LayerField[] {
  const name = `slice${i + 1}`;
  const title = `Slice ${i + 1}`;
  return [
    field(`${name}_top_m`, "real", [`${title}, top (m)`, "Depth below the crest's surface, m."]),
    field(`${name}_base_m`, "real", [`${title}, base (m)`, "Depth below the crest's surface, m."]),
    field(`${name}_median_ohm_m`, "real", [`${title}, median (ohm-m)`, "Resistivity, ohm-m."]),
    field(`${name}_p10_ohm_m`, "real", [`${title}, P10 (ohm-m)`, "Low end of the 80 % interval."]),
    field(`${name}_p90_ohm_m`, "real", [`${title}, P90 (ohm-m)`, "High end of the 80 % interval."]),
  ];
}

function sliceValues(block: Findings["blocks"][number], i: number) {
  const slice = block.resistivity_ohm_m[i];
  if (slice === undefined) return [null, null, null, null, null];
  const { top_m, base_m, median, p10, p90 } = slice;
  return [top_m, base_m, median, p10, p90].map(known);
}
