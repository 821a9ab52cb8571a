import type { SegmentationAgreement } from "../../blocks/agreement/agreement.js";
import { agreementOf } from "../../blocks/agreement/agreement-of.js";
import { compareSegmentationsDefaults } from "../../blocks/agreement/options.js";
import type { Block } from "../../blocks/blocks.js";
import { countText } from "../../step/show/html.js";

/** How other blocks differ from those there are; null where nothing that has a name does. */
export function blocksText(before: readonly Block[], after: readonly Block[]): string | null {
  if (before.length === 0 || after.length === 0) {
    return before.length === after.length
      ? null
      : `${countText(after.length, "block")} instead of ${before.length}.`;
  }
  const compared = agreementOf([before, after], compareSegmentationsDefaults);
  const { onlyOne_m: gone, onlyOther_m: added } = compared;
  const classes = classEffect(before, after, compared);
  const moved = gone.length > 0 || added.length > 0 || before.length !== after.length;
  const parts = [
    ...(moved ? [`${countText(after.length, "block")} instead of ${before.length}`] : []),
    ...(gone.length > 0 ? [`no boundary at ${listOf(gone)} m`] : []),
    ...(added.length > 0 ? [`a boundary at ${listOf(added)} m`] : []),
    ...(classes === "" ? [] : [classes]),
  ];
  return parts.length === 0 ? null : `Blocks: ${parts.join("; ")}.`;
}

/** Another number of classes says more than how far they agree. */
function classEffect(
  before: readonly Block[],
  after: readonly Block[],
  { sameClass_pct, kappa }: SegmentationAgreement,
): string {
  const count = (blocks: readonly Block[]) => new Set(blocks.map((block) => block.class)).size;
  const now = count(after);
  if (count(before) !== now) {
    return `${now === 1 ? "1 class" : `${now} classes`} instead of ${count(before)}`;
  }
  if (sameClass_pct > 99 || Number.isNaN(kappa)) return "";
  return `classes agree on ${sameClass_pct.toFixed(0)} % of the length (kappa ${kappa.toFixed(2)})`;
}

function listOf(values: readonly number[]): string {
  return values.map((value) => value.toFixed(0)).join(", ");
}

/** Stretches by their ends. */
export function stretchesText(
  list: readonly { readonly from_m: number; readonly to_m: number }[],
): string {
  return list.length === 0
    ? "no stretch"
    : list.map((one) => `${one.from_m.toFixed(0)}–${one.to_m.toFixed(0)} m`).join(", ");
}
