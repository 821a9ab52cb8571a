import type { Channel } from "./survey.js";

/** What a channel states, in words. */
export const KIND_WORDS: Readonly<Record<Channel["kind"], string>> = Object.freeze({
  quadrature: "quadrature",
  inphase: "in-phase",
  conductivity: "conductivity",
});

/** Such as "4 kHz" or "900 Hz". */
export function frequencyText(frequency_Hz: number): string {
  return frequency_Hz >= 1000 ? `${frequency_Hz / 1000} kHz` : `${frequency_Hz} Hz`;
}
