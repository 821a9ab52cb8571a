import { countText } from "../../step/show/html.js";
import type { Section, SectionWaterShare } from "../section.js";
import type { InvertSectionOptions } from "../section-options.js";

/** What is to be said of the water beside a line; "" where nothing is. */
export function waterText(
  { runs, water, electrodes, line }: Section,
  used: Pick<InvertSectionOptions, "water" | "includeWater">,
): string {
  if (water !== null) return knownWaterText(water);
  if (used.water === null) {
    if (runs === "along") return "";
    return (
      `No water level of the day is known for line ${line}, whose end is the waterside: water ` +
      "nearer to that end than the section is deep shows in it as conductive ground."
    );
  }
  const isOver = electrodes.some(({ x_m, elevation_m }) => {
    return x_m >= (used.water?.from_m ?? Infinity) && elevation_m < (used.water?.level_m ?? 0);
  });
  if (!used.includeWater) {
    const where = isOver ? "over electrodes" : "beside the line";
    return `Water ${where} is left out by choice: it shows in the section as ground.`;
  }
  return (
    `At ${used.water.level_m.toFixed(2)} m the water lay below all ground that is known along ` +
    `line ${line}: where its edge is further out is not known, and it is not in the section.`
  );
}

function knownWaterText({ level_m, resistivity_ohm_m, electrodes, factors }: SectionWaterShare) {
  const [least, most] = factors.map((factor) => Math.round(100 * (factor - 1)) + 0);
  const where =
    electrodes === 0
      ? "beyond the line's end"
      : `over ${countText(electrodes, "electrode")} and on`;
  const text =
    `Water at ${level_m.toFixed(2)} m, of ${resistivity_ohm_m} ohm-m, ${where}, changes the ` +
    `readings by ${least} to ${most} %; it is part of the ground that explains them, with its ` +
    "resistivity and its bed taken as given and its far bank as endless.";
  if (electrodes === 0) return text;
  return (
    `${text} Under such electrodes a resistivity of the water that is a third off makes the ` +
    "ground as much off: it is to be measured."
  );
}
