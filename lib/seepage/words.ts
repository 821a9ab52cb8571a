import type { DetectionBySize } from "./detection.js";
import type { Seepage } from "./seepage.js";

/** How large a weak place could have been missed, in a sentence. */
export function missedText({ detection }: Pick<Seepage, "detection">): string {
  const known = detection.filter(({ probability }) => !Number.isNaN(probability));
  if (known.length === 0) {
    return "How large a weak place could have been missed cannot be told: nowhere are slices known.";
  }
  const sure = known
    .filter(({ probability }) => probability >= SURE)
    .toSorted((one, other) => one.length_m * one.thickness_m - other.length_m * other.thickness_m);
  const [least] = sure;
  if (least === undefined) {
    const best = known.reduce((most, one) => (one.probability > most.probability ? one : most));
    return (
      "The walk alone would have missed most bodies of sand: even one of " +
      `${sizeText(best)} would have shown in ${percent(best)} of places.`
    );
  }
  return (
    `A body of sand of ${sizeText(least)} would have shown by the walk alone in ${percent(least)} of ` +
    "places; smaller or deeper ones may lie unseen."
  );
}

const SURE = 0.8;

const sizeText = ({ length_m, thickness_m }: DetectionBySize) =>
  `${length_m} m by ${thickness_m} m`;

const percent = ({ probability }: DetectionBySize) => `${Math.round(100 * probability)} %`;

/** Such as "1 · 1815–1875 m". */
export function zoneName(zone: {
  readonly rank: number;
  readonly from_m: number;
  readonly to_m: number;
}): string {
  return `${zone.rank} · ${zone.from_m.toFixed(0)}–${zone.to_m.toFixed(0)} m`;
}
