import { rounded } from "../../figures/numbers.js";
import { classColours, greys, theme } from "../../figures/theme.js";
import { titleBlock } from "../../figures/title.js";
import type { Figure, VegaLiteSpec } from "../../step/figure.js";
import { listText } from "../../step/list-text.js";
import { frequencyText } from "../../survey/channel-words.js";
import type { PlannedFrequency, ProfilingPlan } from "../plan.js";

/** What is lost without each frequency or channel; none where there is one only. */
export function partsFigure(value: ProfilingPlan, addsNothing: number): readonly Figure[] {
  const { word, rows } = partsOf(value);
  if (rows.length < 2) return [];
  const spare = rows.filter((one) => one.addsNothing).map(({ name }) => name);
  const title =
    spare.length === 0
      ? `Every ${word} adds to what the others see of the target`
      : `Left out one at a time, ${listText(spare)} would not be missed`;
  const caption =
    `Bars: share of the squared detectability that is lost where a ${word} is left out and the ` +
    `others stay. Beside them the probability with that ${word} alone. Below the dashed rule ` +
    `(${100 * addsNothing} %) a ${word} counts as adding nothing; several may still not be left ` +
    "out together.";
  return [{ id: "plan-parts", title, caption, spec: partsSpec(title, rows, addsNothing) }];
}

/** A frequency or a channel. */
interface Part extends Pick<PlannedFrequency, "alone" | "lost" | "addsNothing"> {
  readonly name: string;
}

/** Frequencies where there are several, else channels. */
function partsOf({ frequencies, channels }: ProfilingPlan): {
  readonly word: string;
  readonly rows: readonly Part[];
} {
  if (frequencies.length > 1) {
    const rows = frequencies.map((one) => ({ ...one, name: frequencyText(one.frequency_Hz) }));
    return { word: "frequency", rows };
  }
  const rows = channels.map((one) => {
    const kind = one.kind === "inphase" ? "in-phase" : one.kind;
    return { ...one, name: `${kind}, ${one.orientation}, ${one.separation_m} m` };
  });
  return { word: "channel", rows };
}

const WIDTH_PX = 480;

function partsSpec(title: string, parts: readonly Part[], addsNothing: number): VegaLiteSpec {
  const rows = parts.map((one) => ({
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
        data: { values: [{ v: 100 * addsNothing }] },
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
