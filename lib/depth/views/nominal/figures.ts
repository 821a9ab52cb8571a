import { curveSpec } from "../../../figures/curve/curve.js";
import { stripSpec } from "../../../figures/strip/strip.js";
import { firstOf } from "../../../numerics/arrays.js";
import { median } from "../../../numerics/statistics/robust.js";
import type { Figure } from "../../../step/figure.js";
import { coilsText, frequencyText } from "../../../survey/channel-words.js";
import { stationBands } from "../../data/gap-bands.js";
import type { NominalChannel, NominalView } from "./nominal.js";

/** The profiles, panel by coil pair, and the sensitivity of each channel by depth; none of no channel. */
export function nominalFigures(value: NominalView): readonly Figure[] {
  if (value.channels.length === 0) return [];
  return [profilesFigure(value), sensitivityFigure(value)];
}

/** Channels of one coil pair: one nominal depth, whatever the frequency. */
export interface CoilPair {
  readonly name: string;
  readonly nominalDepth_m: number;
  readonly channels: readonly NominalChannel[];
}

export function coilPairs(value: NominalView): readonly CoilPair[] {
  const names = [...new Set(value.channels.map(coilsText))];
  return names.map((name) => {
    const channels = value.channels.filter((channel) => coilsText(channel) === name);
    return { name, nominalDepth_m: firstOf(channels).nominalDepth_m, channels };
  });
}

function profilesFigure(value: NominalView): Figure {
  const title =
    `Campaign ${value.campaign}: ${value.channels.length} apparent conductivities, but only ` +
    `${value.independentLevels.toFixed(1)} independent levels`;
  return {
    id: `nominal-${value.campaign}`,
    title,
    caption:
      "Apparent conductivity of each channel by the low-induction relation, which takes the " +
      "ground for even and the coils for lying on it. The depth of a panel is nominal: half of " +
      "the response of an even ground comes from below it. It is not where the reading looks, " +
      "and a colour is not a depth of its own. Curves stop where readings are set aside or " +
      "missing.",
    spec: stripSpec({
      title,
      subtitle: "Nominal depths: a custom, not a sounding",
      panels: coilPairs(value).map(({ name, nominalDepth_m, channels }) => ({
        kind: "lines" as const,
        label: `${name}, nominally ${nominalDepth_m.toFixed(1)} m (mS/m, apparent)`,
        scale: "linear" as const,
        height_px: 120,
        legend: "Frequency",
        series: channels.map((channel) => ({
          name: frequencyText(channel.frequency_Hz),
          x: value.chainage_m,
          y: channel.apparent_mS_per_m,
        })),
      })),
      setAside: stationBands(value.gap, value),
    }),
  };
}

function sensitivityFigure(value: NominalView): Figure {
  const shares = value.channels.map((channel) => channel.shared);
  const title =
    value.channels.length > 1
      ? `Of what a channel tells, the others tell ${percent(median(shares))} % as well`
      : "One channel: one mean of the ground, weighted by depth";
  return {
    id: `nominal-sensitivity-${value.campaign}`,
    title,
    caption:
      "How much of each channel's sensitivity lies at each depth, over an even ground of " +
      `${value.ground_mS_per_m.toFixed(0)} mS/m, the coils ${value.height_m.toFixed(2)} m above ` +
      "it (whole response, not the low-induction one). Dashed rule: the nominal depth. Channels " +
      "whose curves lie on each other tell the same.",
    spec: curveSpec({
      title,
      x: { label: "Depth (m)", scale: "linear", withZero: true, domain: [0, deepest(value)] },
      y: { label: "Share of the sensitivity a metre (1/m)", scale: "linear", withZero: true },
      legend: "Frequency",
      plots: coilPairs(value).map(({ name, nominalDepth_m, channels }) => ({
        label: name,
        series: channels.map((channel) => ({
          name: frequencyText(channel.frequency_Hz),
          form: "line" as const,
          x: channel.sensitivityDepth_m,
          y: channel.sensitivity_per_m,
        })),
        marks: [{ at: nominalDepth_m, text: "nominal" }],
      })),
    }),
  };
}

/** Three times the deepest nominal depth is drawn. */
function deepest(value: NominalView): number {
  return 3 * Math.max(...value.channels.map((channel) => channel.nominalDepth_m));
}

const percent = (share: number): string => (100 * share).toFixed(0);
