import type { AppendixNotebook, AppendixOutput } from "../../../lib/document/model/notebook.js";
import { curveSpec } from "../../../lib/figures/curve/curve.js";
import { planMapSpec } from "../../../lib/figures/plan/plan-map.js";
import { rankingSpec } from "../../../lib/figures/ranking.js";
import { stripSpec } from "../../../lib/figures/strip/strip.js";
import type { VegaLiteSpec } from "../../../lib/step/figure.js";
import { displayAll } from "../../../lib/step/show/display.js";
import type { StepAccount } from "../../../lib/step/step-account.js";
import { StepResult } from "../../../lib/step/step-result.js";
import {
  sampleCurve,
  samplePlan,
  sampleRanking,
  sampleStrip,
} from "../../figures/support/samples.js";

type Lines = readonly string[];

const markdown = (...lines: Lines) => ({
  cell_type: "markdown" as const,
  metadata: {},
  source: lines.map((line) => `${line}\n`),
});

const code = (count: number, source: string, outputs: readonly AppendixOutput[]) => ({
  cell_type: "code" as const,
  metadata: {},
  execution_count: count,
  source,
  outputs,
});

/** A made-up executed notebook with every kind of cell and output that an appendix has to show. */
export async function sampleNotebook(): Promise<AppendixNotebook> {
  const drift = step(
    "correctDrift",
    "Drift of up to 12 ppm an hour was removed from ten channels.",
    [["drift", "Every channel drifts", curveSpec(sampleCurve())]],
  );
  const slices = step("estimateDepthSlices", "The upper two metres turn sandy past 1,180 m.", [
    ["slices", "The upper two metres turn sandy", stripSpec(sampleStrip())],
    ["plan", "The sandy block lies behind the bend", planMapSpec(samplePlan())],
  ]);
  const seepage = step("scoreSeepage", "Two zones stand out.", [
    ["rank", "Two zones stand out", rankingSpec(sampleRanking())],
  ]);
  return {
    metadata: { kernelspec: { name: "banquette", display_name: "Banquette" } },
    cells: [
      markdown(
        "# Sedgeholm Bank on the River Wend: technical appendix",
        "",
        "Campaigns of October 2031 and April 2032. This notebook *is* the report.",
        "",
        "<script>alert(1)</script> [findings](findings.json), [bad](javascript:alert(1))",
      ),
      markdown("## Drift", "", "Base checks before, during and after each walk bound the drift."),
      code(
        1,
        `const calm = await correctDrift(survey.campaigns[0], {});\ncalm`,
        await outputs(drift),
      ),
      markdown(
        "## Depth",
        "",
        "### Slices",
        "",
        "| depth (m) | soil |",
        "|---|---:|",
        "| 0–2 | `siSa` |",
      ),
      code(2, `const slices = estimateDepthSlices(calm);\nslices`, await outputs(slices)),
      markdown("## Seepage"),
      code(3, "scoreSeepage(evidence)", [
        { output_type: "stream", name: "stdout", text: ["12 zones\n", "tried <all>\n"] },
        { output_type: "stream", name: "stderr", text: "slow\n" },
        ...(await outputs(seepage)),
      ]),
      code(4, "nothing()", [
        {
          output_type: "error",
          ename: "ReferenceError",
          evalue: "nothing is not defined",
          traceback: [
            "\u001b[31mReferenceError\u001b[0m: nothing is not defined",
            "  at cell 4, line 1",
          ],
        },
      ]),
    ],
  };
}

async function outputs(account: StepResult<unknown>): Promise<readonly AppendixOutput[]> {
  return (await displayAll(account)).map((data) => ({ output_type: "display_data", data }));
}

type NamedSpec = readonly [id: string, title: string, spec: VegaLiteSpec];

function step(name: string, summary: string, figures: readonly NamedSpec[]): StepResult<unknown> {
  const account: StepAccount<unknown> = {
    step: name,
    summary,
    value: null,
    used: { noise: { relative: 0.01, floor_ppm: 10 }, minChecks: 3, layers_m: [0.5, 1, 2, 4] },
    basis: [
      {
        statement: "The response of a layered earth is computed in full.",
        source: "Wait 1982; Ward & Hohmann 1988",
      },
      { statement: "Base checks at a fixed spot bound the drift.", source: "common practice" },
    ],
    cautions: [
      {
        step: name,
        text: `${name}: no soil, permeability or safety claim follows from resistivity alone.`,
      },
    ],
    accounting: {
      readings: 8123,
      kept: 0,
      corrected: 7465,
      setAside: [
        { cause: "culvert at 650 m", readings: 412 },
        { cause: "no position", readings: 246 },
      ],
    },
    figures: figures.map(([id, title, spec]) => ({
      id,
      title,
      spec,
      caption: `${title}: chainage in m to the right. Grey bands are set aside, with the cause above; curves stop there.`,
    })),
    tables: [table(4, "Rates by channel"), table(40, "All stretches")],
  };
  return new StepResult(account);
}

function table(rows: number, caption: string) {
  return {
    id: caption,
    caption,
    columns: [
      { field: "channel", label: "Channel" },
      { field: "from", label: "From (m)", digits: 1 },
      { field: "rate", label: "Rate (ppm/h)", digits: 2 },
      { field: "why", label: "Because" },
    ],
    rows: Array.from({ length: rows }, (_, i) => ({
      channel: `q_${i}`,
      from: 612.25 + 37 * i,
      rate: i === 2 ? null : 1.234 * (i - 1),
      why: "The in-phase channel steps where the note names a culvert.",
    })),
  };
}
