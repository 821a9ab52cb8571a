// Slips that are made in an instrument's description or an export, made on sound readings.

import type { BaseCheck, Campaign, Channel, Pass } from "../../../lib/index.js";
import { seededRandom } from "../../../lib/numerics/random.js";

type Slip = (campaign: Campaign) => Campaign;

/** Every pass, or one of them, described otherwise. */
export const described =
  (as: (channel: Channel) => Channel): Slip =>
  (campaign) => ({
    ...campaign,
    passes: campaign.passes.map((pass) => {
      const { instrument } = pass;
      return { ...pass, instrument: { ...instrument, channels: instrument.channels.map(as) } };
    }),
  });

/** Other numbers under the same description, base checks too. */
export const rescaled =
  (factor: (field: string) => number): Slip =>
  (campaign) => ({
    ...campaign,
    baseChecks: campaign.baseChecks.map((check): BaseCheck => {
      const values = Object.entries(check.values).map(([k, v]) => [k, v * factor(k)] as const);
      return { ...check, values: Object.fromEntries(values) };
    }),
    passes: campaign.passes.map((pass): Pass => {
      const { channels } = pass.instrument;
      const values = pass.values.map((column, c) =>
        column.map((value) => value * factor(channels[c]!.field)),
      );
      return { ...pass, values };
    }),
  });

/** Metal from end to end: each reading is off by a factor of its own, in-phase by thousands of ppm. */
export const metalEverywhere =
  (seed: number): Slip =>
  (campaign) => {
    const random = seededRandom(seed);
    return {
      ...campaign,
      passes: campaign.passes.map((pass): Pass => {
        const { channels } = pass.instrument;
        const values = pass.values.map((column, c) =>
          channels[c]!.kind === "inphase"
            ? column.map((value) => value + 3000 * random.normal())
            : column.map((value) => value * Math.exp(0.6 * random.normal())),
        );
        return { ...pass, values };
      }),
    };
  };

/** Two fields of a pass are described as each other, as where columns are in each other's place. */
export const exchanged =
  (one: RegExp, other: RegExp): Slip =>
  (campaign) => ({
    ...campaign,
    passes: campaign.passes.map((pass) => {
      const { channels } = pass.instrument;
      const first = channels.find(({ field }) => one.test(field));
      const second = channels.find(({ field }) => other.test(field));
      if (first === undefined || second === undefined) return pass;
      const as = new Map([
        [first, { ...second, field: first.field }],
        [second, { ...first, field: second.field }],
      ]);
      const now = channels.map((channel) => as.get(channel) ?? channel);
      return { ...pass, instrument: { ...pass.instrument, channels: now } };
    }),
  });

export const otherPart = (channel: Channel): Channel => ({
  ...channel,
  kind: ({ quadrature: "inphase", inphase: "quadrature", conductivity: "conductivity" } as const)[
    channel.kind
  ],
});
