import type { Channel } from "./survey.js";

/** What a channel states, in words. */
export const KIND_WORDS: Readonly<Record<Channel["kind"], string>> = Object.freeze({
  quadrature: "quadrature",
  inphase: "in-phase",
  conductivity: "conductivity",
});

/** Coils in words, such as "HCP, 1.8 m": the separation tells channels apart as all else does. */
export function coilsText({ orientation, separation_m }: CoilNames): string {
  return `${orientation}, ${separation_m} m`;
}

type CoilNames = Pick<Channel, "orientation" | "separation_m">;

/** A channel in words, such as "in-phase, 60 kHz, HCP, 1.8 m". */
export function channelText(channel: Channel): string {
  const { kind, frequency_Hz } = channel;
  return `${KIND_WORDS[kind]}, ${frequencyText(frequency_Hz)}, ${coilsText(channel)}`;
}

/** Such as "4 kHz" or "900 Hz". */
export function frequencyText(frequency_Hz: number): string {
  return frequency_Hz >= 1000 ? `${frequency_Hz / 1000} kHz` : `${frequency_Hz} Hz`;
}
