import type { StepReport } from "../step/define-step.js";
import type { Basis } from "../step/step-account.js";
import { accountFor } from "../survey/account/reading-status.js";
import type { Campaign } from "../survey/survey.js";
import { lineNamed, linesText, walkedLines } from "./data/walked-lines.js";
import type { DepthSlices } from "./depth-slices.js";
import { depthFigures } from "./figures.js";
import type { DepthOptions } from "./options.js";
import { SHAPE_BASIS, shapeCautions } from "./shape/account.js";
import { depthTables } from "./tables.js";

/** What `estimateDepthSlices` says of itself. */
export function depthReport(
  value: DepthSlices,
  used: DepthOptions,
  campaign: Campaign,
): StepReport<DepthSlices> {
  return {
    value,
    summary: summaryOf(value),
    basis: [
      ...BASIS,
      ...(value.shape?.state === "applied" ? [SHAPE_BASIS] : []),
      ...BASIS_OF[used.together],
    ],
    cautions: [
      ...linesCaution(campaign, used),
      ...cautionsOf(campaign, value),
      ...CAUTIONS_OF[used.together],
    ],
    accounting: accountFor([campaign]),
    figures: depthFigures(value),
    tables: depthTables(value),
  };
}

const BASIS: readonly Basis[] = [
  {
    statement: "Full quasi-static response of a layered earth, no low-induction approximation.",
    source: "Wait 1982; Ward & Hohmann 1988",
  },
  {
    statement:
      "Independent levels are the trace of the resolution matrix; a slice is as thin as its mean " +
      "log resistivity is still known to the stated deviation, and the last such slice ends the " +
      "reliable depth.",
    source: "Rodgers 2000, Inverse Methods for Atmospheric Sounding",
  },
];

const BASIS_OF: Readonly<Record<DepthOptions["together"], readonly Basis[]>> = {
  station: [
    {
      statement: "Most likely layered earth under a Gaussian prior, station by station.",
      source: "Tarantola 2005, Inverse Problem Theory",
    },
  ],
  line: [
    {
      statement:
        "Most likely layered earths of all stations together under a Gaussian Markov random field.",
      source: "Auken & Christiansen 2004; Rue & Held 2005, Gaussian Markov Random Fields",
    },
    {
      statement: "Strengths of the prior and noise of each channel by the readings' likelihood.",
      source: "MacKay 1992, Bayesian Interpolation; Dempster, Laird & Rubin 1977",
    },
    {
      statement: "Mean and spread over draws by randomised maximum likelihood.",
      source: "Ba, de Wiljes, Oliver & Reich 2021, arXiv 2101.03612",
    },
  ],
  ensemble: [
    {
      statement:
        "Weighted draws from a broad ensemble of layered earths, station by station; the noise " +
        "of each channel by the line's likelihood.",
      source: "Doucet, de Freitas & Gordon 2001, Sequential Monte Carlo Methods in Practice",
    },
  ],
};

const CAUTIONS_OF: Readonly<Record<DepthOptions["together"], readonly string[]>> = {
  station: [],
  line: [],
  ensemble: [
    "The estimate by an ensemble of earths is on trial: most of its intervals are wider than " +
      "stated, some are too narrow (tests/calibration.md). A slice may be reliable below one that " +
      "is not.",
  ],
};

/** What is read, and what is left out, where lines lie apart. */
function linesCaution(campaign: Campaign, { line }: DepthOptions): readonly string[] {
  const lines = walkedLines(campaign);
  if (lines.length < 2) return [];
  const read = lineNamed(campaign, line)?.names.map((name) => name || "without a name");
  return [
    `Campaign ${campaign.label} holds ${lines.length} lines that lie apart: ${linesText(lines)}. ` +
      `Only ${read?.join(" and ")} is read here; lines are not averaged. The option line reads ` +
      "another.",
  ];
}

function summaryOf(value: DepthSlices): string {
  const known = value.gap.filter((gap) => gap === "").length;
  const slices = value.slices.map(
    (slice) => `${slice.top_m.toFixed(1)}–${slice.base_m.toFixed(1)} m`,
  );
  return (
    `Resistivity by depth at ${known} of ${value.gap.length} stations of campaign ` +
    `${value.campaign}. The data hold ${value.independentLevels.toFixed(1)} independent levels ` +
    `and can be trusted to ${value.reliableTo_m.toFixed(1)} m; ` +
    `slices: ${slices.join(", ") || "none"}. Misfit ${value.rms.toFixed(2)} times the noise.`
  );
}

function cautionsOf(campaign: Campaign, value: DepthSlices): readonly string[] {
  const texts = [
    `Below ${value.reliableTo_m.toFixed(1)} m the estimate leans on the prior, not on the data.`,
    ...(value.shape === undefined ? [] : shapeCautions(value.shape)),
  ];
  if (value.slices.length === 0) {
    texts.push("The data decide no layer better than the prior: no slice is handed on.");
  }
  if (value.rms > 1.5) {
    texts.push(
      `The misfit is ${value.rms.toFixed(1)} times the stated noise: drift, metal or a noise ` +
        "model that is too hopeful is left in the data.",
    );
  }
  const channels = campaign.passes.flatMap((pass) => pass.instrument.channels);
  if (channels.some((channel) => channel.kind === "conductivity")) {
    texts.push(
      "Apparent conductivities were turned back into quadrature by the low-induction relation; " +
        "an instrument that states another conductivity needs its own conversion first.",
    );
  }
  return texts;
}
