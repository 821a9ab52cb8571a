import type { ChannelSpec } from "../earth/forward.js";

/** Coils carried along the bank, in one walk or several. */
export interface Instrument {
  readonly kind: string;
  /** Stated height of the coils above ground, m. */
  readonly height_m: number;
  /** One walk after another; every second one goes back. */
  readonly walks: readonly Walk[];
  readonly noise: NoiseLevels;
}

export interface Walk {
  readonly name: string;
  readonly channels: readonly ChannelSpec[];
}

/** Noise of one reading: standard deviation sqrt(floor² + (share × value)²). */
export interface NoiseLevels {
  readonly floor: Readonly<Record<ChannelSpec["kind"], number>>;
  readonly share: number;
}

interface Coils {
  readonly kinds: readonly ChannelSpec["kind"][];
  readonly orientation: ChannelSpec["orientation"];
  readonly separations_m: readonly number[];
  readonly frequencies_Hz: readonly number[];
}

const BOTH = ["quadrature", "inphase"] as const;
const FIVE = { kinds: BOTH, separations_m: [1.8], frequencies_Hz: [1500, 4e3, 1e4, 25e3, 6e4] };
const THREE = { kinds: BOTH, separations_m: [1.3, 2.2, 3.7], frequencies_Hz: [12_000] };
const MANY = { kinds: BOTH, separations_m: [1.1, 2], frequencies_Hz: [3000, 11_000, 42_000] };
const SHOWN = { kinds: ["conductivity"], separations_m: [2, 4], frequencies_Hz: [9000] } as const;

const HCP = { orientation: "HCP" } as const;
const VCP = { orientation: "VCP" } as const;
const PRP = { orientation: "PRP", separations_m: [1.5, 2.4, 3.3] } as const;

/** The kinds that the contract's channels allow, with ordinary noise (common practice). */
const KINDS = {
  "five frequencies HCP": instrument(0.9, [[{ ...FIVE, ...HCP }]]),
  "five frequencies HCP, VCP": instrument(0.9, [[{ ...FIVE, ...HCP }], [{ ...FIVE, ...VCP }]]),
  "three separations HCP": instrument(0.3, [[{ ...THREE, ...HCP }]]),
  "three separations HCP+PRP": instrument(0.3, [
    [
      { ...THREE, ...HCP },
      { ...THREE, ...PRP },
    ],
  ]),
  "three separations HCP, VCP": instrument(0.3, [[{ ...THREE, ...HCP }], [{ ...THREE, ...VCP }]]),
  "2 and 4 m, mS/m": instrument(0.5, [[{ ...SHOWN, ...HCP }]]),
  "frequencies and separations": instrument(0.6, [
    [
      { ...MANY, ...HCP },
      { ...MANY, ...VCP },
    ],
  ]),
} satisfies Readonly<Record<string, Omit<Instrument, "kind">>>;

export type InstrumentKind = keyof typeof KINDS;

export const INSTRUMENT_KINDS = Object.freeze(Object.keys(KINDS)) as readonly InstrumentKind[];

export function makeInstrument(kind: InstrumentKind): Instrument {
  return { kind, ...KINDS[kind] };
}

function instrument(
  height_m: number,
  walks: readonly (readonly Coils[])[],
): Omit<Instrument, "kind"> {
  return {
    height_m,
    noise: { floor: { quadrature: 8, inphase: 25, conductivity: 0.2 }, share: 0.01 },
    walks: walks.map((coils, w) => ({
      name: `walk-${w + 1}`,
      channels: coils.flatMap(channelsOf),
    })),
  };
}

function channelsOf({ kinds, orientation, separations_m, frequencies_Hz }: Coils): ChannelSpec[] {
  return separations_m.flatMap((separation_m) =>
    frequencies_Hz.flatMap((frequency_Hz) =>
      kinds.map((kind): ChannelSpec => {
        const unit = kind === "conductivity" ? "mS/m" : "ppm";
        const field = fieldName({ kind, orientation, separation_m, frequency_Hz });
        return { field, kind, unit, frequency_Hz, separation_m, orientation };
      }),
    ),
  );
}

/** Such as "q_180cm_4000Hz_hcp". */
function fieldName(channel: Omit<ChannelSpec, "field" | "unit">): string {
  const letter = { quadrature: "q", inphase: "i", conductivity: "c" }[channel.kind];
  const separation = `${Math.round(100 * channel.separation_m)}cm`;
  return `${letter}_${separation}_${channel.frequency_Hz}Hz_${channel.orientation.toLowerCase()}`;
}
