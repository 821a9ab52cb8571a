import { listText } from "../../step/list-text.js";
import { significantText } from "../../step/number-text.js";
import { type ChannelDiagnosis, UNEXPLAINED } from "./diagnose-channels.js";

/** What a diagnosis says, without a full stop; null where the readings go together. */
export function diagnosisText({ misfit, explained, odd }: ChannelDiagnosis): string | null {
  const off = `(misfit ${misfit.toFixed(1)} times what such readings may be off by)`;
  const [best] = explained;
  if (best !== undefined) {
    const as = explained.map(({ text }) => `as if ${text}`).join(", or ");
    const better = significantText(misfit / best.misfit, 2);
    return `no layered ground fits the readings as declared ${off}; they fit ${better} times better ${as}`;
  }
  if (odd.length === 0) {
    if (!(misfit > UNEXPLAINED)) return null;
    return `no layered ground fits the readings as declared ${off}, and no single channel stands out`;
  }
  const names = odd.map(({ field, ratio }) => `${field} reads ${timesText(ratio)}`);
  return `no layered ground fits the readings as declared ${off}; furthest off, ${listText(names)} \
what ground that fits the rest would give`;
}

const timesText = (ratio: number) =>
  Math.abs(ratio) < 100 && Math.abs(ratio) >= 0.01
    ? `${ratio.toFixed(2)} times`
    : "out of all proportion to";
