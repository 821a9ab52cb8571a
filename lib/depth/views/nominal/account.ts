import { median } from "../../../numerics/statistics/robust.js";
import type { StepReport } from "../../../step/define-step.js";
import type { Basis } from "../../../step/step-account.js";
import type { Fault } from "../../../step/step-error.js";
import { accountFor } from "../../../survey/account/reading-status.js";
import type { Campaign } from "../../../survey/survey.js";
import { coilPairs, nominalFigures } from "./figures.js";
import type { NominalView } from "./nominal.js";
import type { NominalOptions } from "./options.js";
import { nominalTable } from "./tables.js";

/** The fault of a campaign that states no conductivity, as a list. */
export function nominalFaults({ passes, label }: Campaign): readonly Fault[] {
  const usable = passes.some(
    (pass) =>
      pass.chainage_m.some((x) => !Number.isNaN(x)) &&
      pass.instrument.channels.some(({ kind }) => kind !== "inphase"),
  );
  if (usable) return [];
  const expected =
    "a campaign with a quadrature or conductivity channel and readings with a position";
  return [{ code: "no-conductivity", path: `campaign ${label}`, expected, received: "none" }];
}

/** What `nominalView` says of itself. */
export function nominalReport(
  value: NominalView,
  _used: NominalOptions,
  campaign: Campaign,
): StepReport<NominalView> {
  return {
    value,
    summary: summaryOf(value),
    basis: BASIS,
    cautions: cautionsOf(campaign, value),
    accounting: accountFor([campaign]),
    figures: nominalFigures(value),
    tables: [nominalTable(value)],
  };
}

const BASIS: readonly Basis[] = [
  {
    statement:
      "Apparent conductivity 4 Im(Hs/Hp)/(ωμ₀s²), and the nominal depth below which half of the " +
      "low-induction response of an even ground comes, the coils at their height.",
    source: "McNeill 1980, Technical Note 6",
  },
  {
    statement:
      "Share told by the others: 1 − added/alone in nats, for a linear response, a Gaussian " +
      "ground and the readings' noise.",
    source: "Rodgers 2000, Inverse Methods for Atmospheric Sounding",
  },
];

function summaryOf(value: NominalView): string {
  if (value.channels.length === 0) {
    return `No reading of campaign ${value.campaign} that states a conductivity is in use.`;
  }
  const depths = coilPairs(value).map(
    ({ name, nominalDepth_m }) => `${name} nominally ${nominalDepth_m.toFixed(1)} m`,
  );
  return (
    `Apparent conductivity of ${value.channels.length} channels of campaign ${value.campaign} by ` +
    `the low-induction relation (${depths.join("; ")}). Together they hold ` +
    `${value.independentLevels.toFixed(1)} independent levels.`
  );
}

function cautionsOf(campaign: Campaign, value: NominalView): readonly string[] {
  const texts = [
    "Nominal depths are a custom: they follow from separation, orientation and height alone, and " +
      "a channel is a mean over all depths. This is no sounding; for depths use " +
      "estimateDepthSlices.",
  ];
  if (coilPairs(value).some(({ channels }) => channels.length > 1)) {
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
      "The low-induction relation is more than 10 % off the even ground that gives the same " +
        `reading in ${low.length} of ${value.channels.length} channels: height and induction are ` +
        "not in it.",
    );
  }
  if (
    campaign.passes.some((pass) => pass.instrument.channels.some(({ kind }) => kind === "inphase"))
  ) {
    texts.push("In-phase channels state no apparent conductivity and are left out here.");
  }
  return texts;
}

/** Apparent over half-space conductivity, medians. */
function ratioOf(channel: NominalView["channels"][number]): number {
  return median(channel.apparent_mS_per_m) / channel.halfSpace_mS_per_m;
}
