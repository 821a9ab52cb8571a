import { median } from "../../numerics/robust.js";
import type { Caution } from "../../step/step-account.js";
import { type Given, resultValue, StepResult } from "../../step/step-result.js";
import { accountFor } from "../../survey/account/reading-status.js";
import type { Campaign } from "../../survey/survey.js";
import { gatherStations, type Stations } from "../data/gather-stations.js";
import type { NominalView } from "./nominal.js";
import { mergeChannels, nominalChannels, typicalPlace } from "./nominal-channels.js";
import { coilPairs, nominalFigures, nominalTable, pairName } from "./nominal-figure.js";
import { type NominalOptions, nominalDefaults, refuseBadNominalInput } from "./nominal-options.js";

/**
 * The customary view of a campaign: apparent conductivity by channel with its nominal depth, named
 * as nominal, and how much of each channel's information the other channels hold as well.
 *
 * σ_a = 4 Im(Hs/Hp)/(ωμ₀s²) of each quadrature channel; a conductivity channel as it stands. The
 * nominal depth is that of `nominalDepth`: one for each coil pair, whatever the frequency. The
 * share is 1 − added/alone, of the information (nats) that a channel adds to the others and that it
 * gives alone, over an even ground with the prior that `estimateDepthSlices` takes by default.
 *
 * @param campaign - a campaign or the result of the step before; set-aside readings are absent.
 *   In-phase channels state no conductivity and are left out.
 * @param options - see `NominalOptions`; what is left out is `nominalDefaults`.
 * @returns n stations × c channels in mS/m, NaN where a station has no reading in use.
 * @throws StepError for options out of range, or a campaign without such a channel or positions.
 * Limits: a quick look. For resistivity by depth with its uncertainty use `estimateDepthSlices`.
 * Source: McNeill 1980, Technical Note 6; Rodgers 2000 (information).
 * @example nominalView(masked).value.channels.length // 10
 */
export function nominalView(
  campaign: Given<Campaign>,
  options: Partial<NominalOptions> = {},
): StepResult<NominalView> {
  const input = resultValue(campaign);
  const used: NominalOptions = { ...nominalDefaults, ...options };
  refuseBadNominalInput(input, used);
  const stations = gatherStations(input, used.spacing_m);
  const merged = mergeChannels(stations);
  const place = typicalPlace(merged, stations);
  const value: NominalView = {
    campaign: input.label,
    chainage_m: stations.chainage_m,
    spacing_m: used.spacing_m,
    ...nominalChannels(merged, place, used),
    ground_mS_per_m: 1000 * place.ground_S_per_m,
    height_m: place.height_m,
    gap: gapsOf(
      stations,
      merged.map((one) => one.apparent),
    ),
  };
  return new StepResult({
    step: "nominalView",
    summary: summaryOf(value),
    value,
    used: { ...used },
    basis: BASIS,
    cautions: cautionsOf(input, value),
    accounting: accountFor([input]),
    figures: nominalFigures(value),
    tables: [nominalTable(value)],
  });
}

const BASIS = [
  {
    statement:
      "Apparent conductivity 4 Im(Hs/Hp)/(ωμ₀s²), and the nominal depth below which half of the " +
      "low-induction response of an even ground comes, the coils at their height.",
    source: "McNeill 1980, Technical Note 6",
  },
  {
    statement:
      "Share told by the others: 1 − added/alone in nats, for a linear response, a Gaussian ground " +
      "and the readings' noise.",
    source: "Rodgers 2000, Inverse Methods for Atmospheric Sounding",
  },
];

/** Why a station has no channel at all. */
function gapsOf(stations: Stations, apparent: readonly Float64Array[]): string[] {
  return Array.from(stations.chainage_m, (_, i) => {
    if (apparent.some((column) => !Number.isNaN(column[i]!))) return "";
    return stations.present[i]! > 0 ? stations.cause[i] || "set aside" : "no readings";
  });
}

function summaryOf(value: NominalView): string {
  const depths = coilPairs(value).map(
    ([first]) => `${pairName(first!)} nominally ${first!.nominalDepth_m.toFixed(1)} m`,
  );
  return (
    `Apparent conductivity of ${value.channels.length} channels of campaign ${value.campaign} by the ` +
    `low-induction relation (${depths.join("; ")}). Together they hold ` +
    `${value.independentLevels.toFixed(1)} independent levels.`
  );
}

function cautionsOf(campaign: Campaign, value: NominalView): Caution[] {
  const texts = [
    "Nominal depths are a custom: they follow from separation, orientation and height alone, and a " +
      "channel is a mean over all depths. This is no sounding; for depths use estimateDepthSlices.",
  ];
  if (coilPairs(value).some((channels) => channels.length > 1)) {
    texts.push(
      "Channels of one coil pair at several frequencies have one nominal depth. Drawing them at " +
        "depths of their own would show levels that the data do not hold.",
    );
  }
  const low = value.channels.filter(
    (channel) => !(Math.abs(ratioOf(channel) - 1) < 0.1) && channel.kind === "quadrature",
  );
  if (low.length > 0) {
    texts.push(
      `The low-induction relation is more than 10 % off the even ground that gives the same reading ` +
        `in ${low.length} of ${value.channels.length} channels: height and induction are not in it.`,
    );
  }
  if (
    campaign.passes.some((pass) => pass.instrument.channels.some(({ kind }) => kind === "inphase"))
  ) {
    texts.push("In-phase channels state no apparent conductivity and are left out here.");
  }
  return texts.map((text) => ({ step: "nominalView", text }));
}

/** Apparent over half-space conductivity, medians. */
function ratioOf(channel: NominalView["channels"][number]): number {
  return median(channel.apparent_mS_per_m) / channel.halfSpace_mS_per_m;
}
