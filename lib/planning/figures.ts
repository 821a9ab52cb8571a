import { type CurveFigure, curveSpec } from "../figures/curve/curve.js";
import { rounded } from "../figures/numbers.js";
import { classColours, greys, theme } from "../figures/theme.js";
import { titleBlock } from "../figures/title.js";
import type { Figure, VegaLiteSpec } from "../step/figure.js";
import { listText } from "../step/list-text.js";
import { frequencyText } from "../survey/channel-words.js";
import type { Instrument } from "../survey/survey.js";
import { detectionProbability } from "./detection/detection-probability.js";
import type { PlanOptions } from "./options.js";
import type { PlanTarget, ProfilingPlan } from "./plan.js";
import { type PlanGround, planGround } from "./scene/plan-ground.js";

interface Planned {
  readonly value: ProfilingPlan;
  readonly used: PlanOptions;
}

/** The target in words. */
export function targetText(target: PlanTarget): string {
  if (target.kind === "boundary") return "the boundary";
  return (
    `a lens ${target.length_m} m long at ${target.top_m}–${target.base_m} m with ` +
    `${target.conductivityRatio} times the conductivity`
  );
}

/** Probability by size and depth of a lens, by height and spacing, and what each frequency adds. */
export function planFigures(
  instrument: Instrument,
  ground: PlanGround,
  planned: Planned,
): readonly Figure[] {
  const size = ground.target.kind === "lens" ? [sizeFigure(instrument, ground, planned)] : [];
  const groups = groupsOf(planned.value);
  const parts = groups.rows.length > 1 ? [partsFigure(groups, planned)] : [];
  return [...size, heightFigure(instrument, ground, planned), ...parts];
}

const probabilityAxis: CurveFigure["y"] = {
  label: "Probability to see it",
  scale: "linear",
  domain: [0, 1],
};

function sizeFigure(instrument: Instrument, ground: PlanGround, { value, used }: Planned): Figure {
  const lens = ground.target as Extract<PlanTarget, { kind: "lens" }>;
  const lengths = [0.25, 0.35, 0.5, 0.7, 1, 1.4, 2, 2.8, 4].map((factor) => factor * lens.length_m);
  const tops = [
    ...new Set([0.5 * lens.top_m, lens.top_m, 2 * lens.top_m + (lens.top_m === 0 ? 1 : 0)]),
  ];
  const title =
    `A lens of ${lens.length_m} m from ${lens.top_m} m down is seen with a probability ` +
    `${probabilityText(value.probability)}`;
  const series = tops.map((top_m) => {
    const moved = { ...lens, top_m, base_m: top_m + lens.base_m - lens.top_m };
    const at = planGround(instrument, ground.earth, { target: moved, used });
    const y = lengths.map((length_m) => {
      const target = { ...moved, length_m };
      return detectionProbability({ ...at, target }, used).probability;
    });
    return { name: `from ${top_m} m down`, form: "line" as const, x: lengths, y };
  });
  return {
    id: "plan-size",
    title,
    caption:
      `Probability that the best test sees the lens, ${(lens.base_m - lens.top_m).toFixed(1)} m thick ` +
      `with ${lens.conductivityRatio} times the conductivity around it, at a false alarm in ` +
      `${(100 * used.falseAlarm).toFixed(1)} % of places without one. Dashed rule: the length asked for.`,
    spec: curveSpec({
      title,
      width_px: 560,
      x: { label: "Length of the lens (m)", scale: "log" },
      y: probabilityAxis,
      legend: "Depth of the lens",
      plots: [{ label: "", series, marks: [{ at: lens.length_m, text: "asked" }] }],
    }),
  };
}

function heightFigure(
  instrument: Instrument,
  ground: PlanGround,
  { value, used }: Planned,
): Figure {
  const { target, earth } = ground;
  const heights = value.byHeight.map((one) => one.height_m);
  const grounds = heights.map((height_m) =>
    planGround(instrument, earth, { target, used: { ...used, height_m } }),
  );
  const other = value.height_m > 0 ? value.byHeight[0]! : value.byHeight.at(-1)!;
  const title =
    `At ${metres(value.height_m)} the coils see it with a probability ` +
    `${probabilityText(value.probability)}, at ${metres(other.height_m)} with one ` +
    `${probabilityText(other.probability)}`;
  return {
    id: "plan-height",
    title,
    caption:
      "Probability to see the target against the height of the coils, one curve a spacing of the " +
      "readings. Dashed rule: the height of the plan.",
    spec: curveSpec({
      title,
      width_px: 560,
      x: { label: "Height of the coils (m)", scale: "linear", withZero: true },
      y: probabilityAxis,
      legend: "Reading every",
      plots: [
        {
          label: "",
          series: value.bySpacing.map(({ spacing_m }) => ({
            name: `${spacing_m} m`,
            form: "line" as const,
            x: heights,
            y: grounds.map((at) => detectionProbability(at, { ...used, spacing_m }).probability),
          })),
          marks: [{ at: value.height_m, text: "plan" }],
        },
      ],
    }),
  };
}

const metres = (value: number): string => `${Number(value.toFixed(2))} m`;

/** "of 0.36", or what can be said near the ends. */
export function probabilityText(probability: number): string {
  if (probability > 0.995) return "over 0.99";
  return probability < 0.005 ? "under 0.01" : `of ${probability.toFixed(2)}`;
}

interface Groups {
  /** What a row is: "frequency" or "channel". */
  readonly word: string;
  readonly rows: readonly {
    readonly name: string;
    readonly alone: number;
    readonly lost: number;
    readonly addsNothing: boolean;
  }[];
}

/** Frequencies where there are several, else channels. */
function groupsOf({ frequencies, channels }: ProfilingPlan): Groups {
  if (frequencies.length > 1) {
    const rows = frequencies.map((one) => ({ ...one, name: frequencyText(one.frequency_Hz) }));
    return { word: "frequency", rows };
  }
  const rows = channels.map((one) => ({
    ...one,
    name: `${one.kind === "inphase" ? "in-phase" : one.kind}, ${one.orientation}, ${one.separation_m} m`,
  }));
  return { word: "channel", rows };
}

function partsFigure({ word, rows }: Groups, { used }: Planned): Figure {
  const spare = rows.filter((one) => one.addsNothing).map(({ name }) => name);
  const title =
    spare.length === 0
      ? `Every ${word} adds to what the others see of the target`
      : `Left out one at a time, ${listText(spare)} would not be missed`;
  return {
    id: "plan-parts",
    title,
    caption:
      `Bars: share of the squared detectability that is lost where a ${word} is left out and the ` +
      `others stay. Beside them the probability with that ${word} alone. Below the dashed rule ` +
      `(${100 * used.addsNothing} %) a ${word} counts as adding nothing; several may still not be left ` +
      "out together.",
    spec: partsSpec(title, { word, rows }, used),
  };
}

const WIDTH_PX = 480;

function partsSpec(title: string, groups: Groups, used: PlanOptions): VegaLiteSpec {
  const rows = groups.rows.map((one) => ({
    f: one.name,
    v: rounded(100 * one.lost, 2),
    t: `probability alone ${one.alone.toFixed(2)}`,
  }));
  const most = Math.max(10, ...rows.map(({ v }) => v ?? 0));
  const y = {
    field: "f",
    type: "nominal",
    sort: rows.map(({ f }) => f),
    axis: { title: null, domain: false, ticks: false, labelPadding: 8, labelLimit: 260 },
  };
  const x = {
    field: "v",
    type: "quantitative",
    scale: { domain: [0, 1.05 * most], nice: false },
    axis: { title: "Detectability lost without it (%)", tickCount: 6 },
  };
  return {
    $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    title: titleBlock({ title }, WIDTH_PX + 150),
    config: theme,
    width: WIDTH_PX,
    height: { step: 30 },
    data: { values: rows },
    layer: [
      { mark: { type: "bar", height: 16, color: classColours[0] }, encoding: { y, x } },
      {
        data: { values: [{ v: 100 * used.addsNothing }] },
        mark: { type: "rule", color: greys.quiet, strokeDash: [4, 3] },
        encoding: { x },
      },
      {
        mark: { type: "text", align: "left", x: WIDTH_PX + 10 },
        encoding: { y, text: { field: "t" } },
      },
    ],
  };
}
