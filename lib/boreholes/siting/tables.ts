import type { Table } from "../../step/figure.js";
import type { BoreholePlan, PartName } from "./plan.js";

export function sitingTables(value: BoreholePlan): readonly Table[] {
  return [holesTable(value), partsTable(value)];
}

function holesTable({ holes }: BoreholePlan): Table {
  return {
    id: "borehole-plan",
    caption:
      "Proposed boreholes by priority; offsets from the centreline, positive to the left. Kept: plans " +
      "that hold the hole within 30 m when one weight is halved or doubled",
    columns: [
      { field: "id", label: "Hole" },
      { field: "chainage_m", label: "Chainage (m)", digits: 0 },
      { field: "place", label: "Place" },
      { field: "offset_m", label: "Offset (m)", digits: 1 },
      { field: "depth_m", label: "Depth (m)", digits: 1 },
      { field: "purpose", label: "Purpose" },
      { field: "reason", label: "Reason" },
      { field: "adds_m", label: "Adds (m of bank as weighed)", digits: 0 },
      { field: "kept", label: "Kept" },
    ],
    rows: holes.map((hole) => ({
      id: hole.id,
      chainage_m: hole.chainage_m,
      place: hole.place,
      offset_m: hole.offset_m,
      depth_m: hole.depth_m,
      purpose: hole.purpose,
      reason: hole.reason,
      adds_m: hole.adds_m,
      kept: `${hole.keptIn} of ${hole.plansTried}`,
    })),
  };
}

const PART_NAMES: Readonly<Record<PartName, string>> = {
  soil: "Soil along the bank, by what the nearest alike borehole tells",
  block: "Blocks with a borehole",
  class: "Classes with a borehole",
  boundary: "Unsure boundaries",
  seepage: "Seepage zones",
  change: "Changes between campaigns",
};

function partsTable({ parts, metres }: BoreholePlan): Table {
  return {
    id: "borehole-plan-parts",
    caption:
      `What ${metres.toFixed(1)} m of drilling settle, in metres of bank as weighed: the plan beside ` +
      "holes at equal spacing along the crest",
    columns: [
      { field: "part", label: "Part" },
      { field: "all_m", label: "There is", digits: 0 },
      { field: "before_m", label: "Before", digits: 0 },
      { field: "plan_m", label: "With the plan", digits: 0 },
      { field: "equal_m", label: "At equal spacing", digits: 0 },
    ],
    rows: parts.map(({ name, all_m, before_m, plan_m, equal_m }) => ({
      part: PART_NAMES[name],
      ...{ all_m, before_m, plan_m, equal_m },
    })),
  };
}
