import type { Block } from "../blocks/blocks.js";
import type { Change } from "../campaigns/pair/changes.js";
import type { SeepageZone } from "../seepage/seepage.js";
import { countText } from "../step/show/html.js";
import type { Caution } from "../step/step-account.js";
import { StepResult } from "../step/step-result.js";
import { accountFigure } from "../survey/account/account-figure.js";
import { accountFor, fateOf } from "../survey/account/reading-status.js";
import type { Survey } from "../survey/survey.js";
import type { BlockFinding, Findings, SeepageFinding } from "./findings.js";
import { findingsTable } from "./findings-table.js";
import type { Work } from "./work.js";

/**
 * Gathers what every step found into one value, the content of findings.json: chainages to 0.1 m,
 * other numbers to four significant digits, every list present, every caution once.
 *
 * @param work - the results of the steps, as the notebook or `interpret` holds them.
 * @returns the findings, with the account of all readings of the survey.
 * @example gatherFindings(work).value.blocks.length; // 9
 */
export function gatherFindings(work: Work): StepResult<Findings> {
  const survey = work.survey.value;
  const masked = work.masked.map((result) => result.value);
  const depth = (work.slices.find((s) => s.value.campaign === work.blocks.value.campaign) ??
    work.slices[0])!.value;
  const findings: Findings = {
    survey: {
      name: survey.name,
      embankment: survey.embankment,
      length_m: chainage(survey.length_m),
      campaigns: survey.campaigns.map((campaign) => campaign.label),
    },
    drift: work.drift.flatMap((result) =>
      result.value.drift.map(({ campaign, channel, model, perHour, residual, checks }) => ({
        campaign,
        channel,
        model,
        perHour: finite(perHour) ?? 0,
        residual: finite(residual),
        checks,
      })),
    ),
    setAside: masked.flatMap((campaign) =>
      campaign.interference.map((stretch) => ({
        campaign: campaign.label,
        from_m: chainage(stretch.from_m),
        to_m: chainage(stretch.to_m),
        cause: stretch.cause,
        object: stretch.object,
        channels: [...stretch.channels],
        readings: stretch.readings,
      })),
    ),
    unexplained: masked.flatMap((campaign) =>
      campaign.unexplained.map(({ from_m, to_m }) => ({
        campaign: campaign.label,
        from_m: chainage(from_m),
        to_m: chainage(to_m),
      })),
    ),
    silentNotes: silentThroughout(work),
    depth: {
      slices: depth.slices
        .filter((slice) => slice.reliable)
        .map(({ top_m, base_m }) => ({ top_m, base_m })),
      independentLevels: depth.independentLevels,
      reliableTo_m: depth.reliableTo_m,
      misfit: digits(depth.rms),
    },
    blocks: work.blocks.value.blocks.map((block) => blockFinding(block, work)),
    changes: work.changes.flatMap((result) => result.value.changes.map(changeFinding)),
    sections: [],
    seepage: work.seepage.value.zones.map(seepageFinding),
    boreholes: [],
    robustness: work.robustness ?? [],
    cautions: [...gatheredCautions(work)],
  };
  const account = accountFor(masked);
  return new StepResult({
    step: "gatherFindings",
    summary: summaryOf(findings),
    value: findings,
    used: {},
    basis: [],
    cautions: openQuestions(work),
    accounting: account,
    figures: [accountFigure(account)],
    tables: findingsTable(findings),
  });
}

/** Notes without a trace in any campaign that they hold for, each once. */
function silentThroughout(work: Work): Findings["silentNotes"] {
  const seen = new Map<string, { object: string; from_m: number; to_m: number; times: number }>();
  for (const result of work.masked) {
    for (const note of result.value.silentNotes) {
      const key = `${note.object} ${note.from_m} ${note.to_m}`;
      const before = seen.get(key)?.times ?? 0;
      seen.set(key, { ...note, times: before + 1 });
    }
  }
  const noted = (entry: { object: string; from_m: number; to_m: number }) =>
    work.masked.filter((result) =>
      result.value.notes.some(
        (note) =>
          note.object === entry.object && note.from_m === entry.from_m && note.to_m === entry.to_m,
      ),
    ).length;
  return [...seen.values()]
    .filter((entry) => entry.times >= noted(entry))
    .map(({ object, from_m, to_m }) => ({
      object,
      from_m: chainage(from_m),
      to_m: chainage(to_m),
    }));
}

function blockFinding(block: Block, work: Work): BlockFinding {
  return {
    id: block.id,
    from_m: chainage(block.from_m),
    to_m: chainage(block.to_m),
    fromInterval_m: [chainage(block.fromInterval_m[0]), chainage(block.fromInterval_m[1])],
    toInterval_m: [chainage(block.toInterval_m[0]), chainage(block.toInterval_m[1])],
    class: block.class,
    resistivity_ohm_m: block.resistivity_ohm_m.map((slice) => ({
      top_m: slice.top_m,
      base_m: slice.base_m,
      median: digits(slice.median),
      p10: digits(slice.p10),
      p90: digits(slice.p90),
    })),
    readings: readingsIn(block, work),
    masked_pct: digits(block.masked_pct),
  };
}

/** Readings in use of the campaign that the blocks rest on, within a block. */
function readingsIn(block: Block, work: Work): number {
  const label = work.blocks.value.campaign;
  const campaign = work.masked.find((result) => result.value.label === label)?.value;
  let count = 0;
  for (const [p, pass] of (campaign?.passes ?? []).entries()) {
    for (const [row, x] of pass.chainage_m.entries()) {
      if (!(x >= block.from_m && x < block.to_m)) continue;
      if (fateOf(campaign!, p, row).fate !== "set aside") count += 1;
    }
  }
  return count;
}

/** The fields of the contract only: intervals and single slices stay with the step's own result. */
function changeFinding(change: Change): Change {
  const { earlier, later, direction } = change;
  return {
    from_m: chainage(change.from_m),
    to_m: chainage(change.to_m),
    earlier,
    later,
    direction,
    ratio: digits(change.ratio),
    q: digits(change.q),
    slices: [...change.slices],
  };
}

function seepageFinding(zone: SeepageZone): SeepageFinding {
  return {
    rank: zone.rank,
    from_m: chainage(zone.from_m),
    to_m: chainage(zone.to_m),
    score: digits(zone.score),
    probability: digits(zone.probability),
    band: zone.band,
    evidence: zone.evidence.map((piece) => ({
      name: piece.name,
      weight: digits(piece.weight),
      value: piece.value === null ? null : digits(piece.value),
      statement: piece.statement,
    })),
    exitGradient:
      zone.exitGradient === null
        ? null
        : {
            p10: digits(zone.exitGradient.p10),
            p50: digits(zone.exitGradient.p50),
            p90: digits(zone.exitGradient.p90),
          },
  };
}

function gatheredCautions(work: Work): readonly Caution[] {
  const all = [
    work.survey,
    ...work.drift,
    ...work.masked,
    ...present(work.across),
    ...work.slices,
    work.blocks,
    ...work.changes,
    ...present(work.trend),
    ...present(work.head),
    work.seepage,
  ].flatMap((result) => result.cautions);
  const unique = new Map<string, Caution>();
  for (const caution of [...all, ...openQuestions(work)]) {
    unique.set(`${caution.step} ${caution.text}`, caution);
  }
  return [...unique.values()];
}

const present = <T>(one: T | undefined): readonly T[] => (one === undefined ? [] : [one]);

/** Why lists are empty, said as cautions. */
function openQuestions(work: Work): Caution[] {
  const survey = work.survey.value;
  const open: Caution[] = [sectionsCaution(survey), boreholesCaution()];
  if (work.changes.length === 0) {
    open.push({ step: "compareCampaigns", text: "No comparison: the survey holds one campaign." });
  }
  return open;
}

function sectionsCaution(survey: Survey): Caution {
  const lines = survey.resistivityLines;
  const readings = lines.reduce((sum, line) => sum + line.readings.length, 0);
  const text =
    lines.length === 0
      ? "No resistivity lines were measured: no section."
      : `${countText(lines.length, "resistivity line")} with ${countText(readings, "reading")} ` +
        "were read and checked, but " +
        "they are not inverted in this version: no section is given.";
  return { step: "invertSection", text };
}

function boreholesCaution(): Caution {
  return {
    step: "siteBoreholes",
    text: "Boreholes are not sited in this version: none is proposed.",
  };
}

function summaryOf(findings: Findings): string {
  const classes = new Set(findings.blocks.map((block) => block.class)).size;
  const first = findings.seepage[0];
  return (
    `${findings.survey.embankment}, ${(findings.survey.length_m / 1000).toFixed(1)} km: ` +
    `${findings.blocks.length} blocks in ${classes} classes, ` +
    `${findings.setAside.length} stretches set aside, ${findings.unexplained.length} of them ` +
    `unexplained; ${findings.changes.length} stretches changed between campaigns; ` +
    (first === undefined
      ? "no seepage zone named."
      : `the first seepage zone lies at ${first.from_m.toFixed(0)}–${first.to_m.toFixed(0)} m.`)
  );
}

function chainage(value_m: number): number {
  return Math.round(10 * value_m) / 10;
}

function digits(value: number): number {
  return Number(value.toPrecision(4));
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? digits(value) : null;
}
