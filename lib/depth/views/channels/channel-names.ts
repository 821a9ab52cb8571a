import { zipped } from "../../../numerics/arrays.js";
import { frequencyText, KIND_WORDS } from "../../../survey/channel-words.js";
import type { Channel } from "../../../survey/survey.js";
import type { ChannelFit } from "../../depth-slices.js";

/** "HCP quadrature, 4 kHz", and of its coil pair and kind "HCP quadrature". */
export interface ChannelNames {
  readonly name: string;
  readonly family: string;
}

/** Names of all channels of an inversion; with the walk where two walks have the same channel. */
export function channelNames(fits: readonly ChannelFit[]): readonly ChannelNames[] {
  const coils = fits.flatMap((fit) => fit.coils ?? []);
  const severalPairs = new Set(coils.map(({ separation_m }) => separation_m)).size > 1;
  const plain = fits.map((fit) =>
    fit.coils ? namesOf(fit.coils, severalPairs) : { name: fit.channel, family: fit.channel },
  );
  return zipped(plain, fits).map(([{ name, family }, { resource }]) => {
    const twice = plain.filter((one) => one.name === name).length > 1;
    const walk = twice ? `, ${resource}` : "";
    return { name: `${name}${walk}`, family: `${family}${walk}` };
  });
}

function namesOf(channel: Channel, severalPairs: boolean): ChannelNames {
  const { orientation, separation_m, kind, frequency_Hz } = channel;
  const pair = severalPairs ? `${orientation} ${separation_m} m` : orientation;
  const family = `${pair} ${KIND_WORDS[kind]}`;
  return { name: `${family}, ${frequencyText(frequency_Hz)}`, family };
}
