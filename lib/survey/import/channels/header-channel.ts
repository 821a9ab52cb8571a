import type { Channel } from "../../instrument.js";
import { type ReadingUnit, readingUnit } from "../values/unit-text.js";

/** What a name tells of a channel. */
export type ChannelParts = Partial<
  Pick<Channel, "kind" | "frequency_Hz" | "separation_m" | "orientation">
> & {
  readonly unit?: ReadingUnit;
};

const KINDS: readonly (readonly [Channel["kind"], RegExp])[] = [
  ["quadrature", /\b(quadrature|quadratur|quad|quadratura|out of phase|q|qp|imag(inary)?)\d*\b/],
  ["inphase", /\b(in ?phase|inph|inphase|en phase|in fase|en fase|ip|i|real)\d*\b/],
  [
    "conductivity",
    /\b(conductivity|cond|conduct|eca?|sigma|leitfahigkeit|lf|conductivite|conductividad|conducibilita|geleidbaarheid|geleiding)\d*\b/,
  ],
];

const ORIENTATIONS: readonly (readonly [Channel["orientation"], RegExp])[] = [
  ["HCP", /\b(hcp|horizontal coplanar)\b/],
  ["VCP", /\b(vcp|vertical coplanar)\b/],
  ["PRP", /\b(prp|perpendicular)\b/],
];

/**
 * Reads `q 9khz hcp 1.8m`, `cond 2 m`, `quad 4k8`, in any order; parts that are not told are left
 * out.
 */
export function channelParts(words: string, unitText: string): ChannelParts {
  const text = words.replace(/\b([a-z]{1,11})(\d)/g, "$1 $2");
  const unit = readingUnit(unitText);
  const kind = kindOf(text, unit);
  const orientation = ORIENTATIONS.find(([, pattern]) => pattern.test(text))?.[0];
  const frequency_Hz = frequencyIn(text);
  const separation_m = separationIn(text);
  return {
    ...(kind && { kind }),
    ...(unit && { unit }),
    ...(orientation && { orientation }),
    ...(frequency_Hz && { frequency_Hz }),
    ...(separation_m && { separation_m }),
  };
}

/** A quadrature shown as mS/m is an apparent conductivity. */
function kindOf(text: string, unit: ReadingUnit | null): Channel["kind"] | undefined {
  const named = KINDS.find(([, pattern]) => pattern.test(text))?.[0];
  if (unit !== null && /S/.test(unit)) return named === "inphase" ? undefined : "conductivity";
  return named;
}

function frequencyIn(text: string): number | null {
  const split = /\b(\d+)k(\d+)\b/.exec(text);
  if (split !== null) return 1000 * Number(`${split[1]}.${split[2]}`);
  const match = /\b(\d+(?:\.\d+)?) ?(k ?hz|hz|k)\b/.exec(text);
  if (match === null) return null;
  return Number((Number(match[1]) * (match[2] === "hz" ? 1 : 1000)).toPrecision(12));
}

/** A range such as `0-1.5 m` is a depth, not a separation. */
function separationIn(text: string): number | null {
  const split = /\b(\d+)m(\d+)\b/.exec(text);
  if (split !== null) return Number(`${split[1]}.${split[2]}`);
  const match = /(?<!\d ?)\b(\d+(?:\.\d+)?) ?(cm|m)\b/.exec(text);
  if (match === null || /\d+(\.\d+)? (\d+(\.\d+)?) ?c?m\b/.test(text)) return null;
  return match[2] === "cm" ? Number(match[1]) / 100 : Number(match[1]);
}

/** True where a name alone tells that a column holds readings of the coils. */
export function isChannel({ kind, unit, frequency_Hz, orientation }: ChannelParts): boolean {
  const told = [unit, frequency_Hz, orientation].filter((part) => part !== undefined).length;
  return (kind !== undefined && told > 0) || (unit !== undefined && unit !== "%") || told > 1;
}

/** `q_4k8_hcp_1m8`. */
export function channelField(channel: Omit<Channel, "field" | "unit">): string {
  const letter = { quadrature: "q", inphase: "i", conductivity: "c" }[channel.kind];
  const { frequency_Hz: f, separation_m, orientation } = channel;
  const frequency = f < 1000 ? `${f}Hz` : mixed(f / 1000, "k");
  return `${letter}_${frequency}_${orientation.toLowerCase()}_${mixed(separation_m, "m")}`;
}

function mixed(value: number, unit: string): string {
  const [whole, part = ""] = String(Number(value.toPrecision(8))).split(".");
  return `${whole}${unit}${part}`;
}
