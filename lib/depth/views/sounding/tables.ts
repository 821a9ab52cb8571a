import { NORMAL_90 } from "../../../numerics/normal.js";
import type { Table } from "../../../step/figure.js";
import type { DepthSlices } from "../../depth-slices.js";
import type { Sounding } from "./sounding.js";

/** "At 1,012 m: 26 ohm-m down to 1.0 m, then 85 ohm-m down to 3.3 m, known to a factor of 1.3". */
export function soundingFinding(slices: DepthSlices, value: Sounding): string {
  const at = `At ${metres(value.chainage_m)} m`;
  const station = slices.chainage_m.indexOf(value.chainage_m);
  const told = slices.slices
    .map((slice, k) => ({ slice, k }))
    .filter(({ slice }) => slice.reliable && slice.base_m <= slices.reliableTo_m);
  if (told.length === 0) return `${at} the readings resolve no depth`;
  const parts = told.map(({ slice, k }, at) => {
    const ohm_m = 10 ** slices.log10Resistivity[k]![station]!;
    const text = `${ohm(ohm_m)} ohm-m down to ${slice.base_m.toFixed(1)} m`;
    return at === 0 ? text : `then ${text}`;
  });
  const widest = told.reduce((most, { k }) => Math.max(most, slices.sd[k]![station]!), 0);
  const factor = (10 ** (NORMAL_90 * widest)).toFixed(1);
  return `${at}: ${parts.join(", ")}, known to a factor of ${factor}`;
}

const ohm = (value: number): string => Number(value.toPrecision(2)).toLocaleString("en");
const metres = (value: number): string => value.toLocaleString("en", { maximumFractionDigits: 1 });

export function soundingTable(value: Sounding): Table {
  const { top_m, borehole } = value;
  const soilAt = (depth_m: number) =>
    borehole?.strata.find((one) => depth_m >= one.top_m && depth_m < one.base_m)?.soil ?? null;
  return {
    id: `depth-sounding-${value.campaign}-${Math.round(value.chainage_m)}`,
    caption: `Layers under ${metres(value.chainage_m)} m, campaign ${value.campaign}`,
    columns: [
      { field: "from", label: "From (m)", digits: 2 },
      { field: "to", label: "To (m)", digits: 2 },
      { field: "ohm_m", label: "Resistivity (ohm-m)", digits: 1 },
      { field: "p10", label: "10 % (ohm-m)", digits: 1 },
      { field: "p90", label: "90 % (ohm-m)", digits: 1 },
      { field: "decided", label: "Readings decide (%)", digits: 0 },
      { field: "reliable", label: "Reliable" },
      ...(borehole ? [{ field: "soil", label: `At its middle in ${borehole.borehole}` }] : []),
    ],
    rows: Array.from(top_m, (top, j) => ({
      from: top,
      to: top_m[j + 1] ?? null,
      ohm_m: value.resistivity_ohm_m[j]!,
      p10: value.p10_ohm_m[j]!,
      p90: value.p90_ohm_m[j]!,
      decided: 100 * value.learned[j]!,
      reliable: (top_m[j + 1] ?? Infinity) <= value.reliableTo_m ? "yes" : "no",
      ...(borehole && { soil: soilAt((top + (top_m[j + 1] ?? top)) / 2) }),
    })),
  };
}
