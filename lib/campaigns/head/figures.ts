import { curveSpec } from "../../figures/curve/curve.js";
import { type PointsPanel, stripSpec } from "../../figures/strip/strip.js";
import { itemAt } from "../../numerics/arrays.js";
import type { Figure } from "../../step/figure.js";
import { listText } from "../../step/list-text.js";
import { depthText, placeText } from "../ranges.js";
import { pairMeans, presentPairs } from "./head-fit.js";
import {
  type HeadResponse,
  pointText,
  type SliceResponse,
  type StretchResponse,
  strongestSlice,
} from "./head-response.js";

/** The factor a metre along the line; and for the surest stretches, ratio over head. */
export function headFigures(value: HeadResponse, q: number): Figure[] {
  const found = [...value.stretches]
    .filter((one) => one.responds)
    .sort((one, other) => one.q - other.q)
    .slice(0, 3);
  return [alongLine(value, q), ...(found.length > 0 ? [overHead(value, found)] : [])];
}

function headTitle({ point, stretches }: HeadResponse): string {
  const found = stretches.filter((one) => one.responds);
  if (found.length === 0) return `No stretch follows ${pointText(point)} beyond chance`;
  if (found.length > 3) return `${found.length} stretches follow ${pointText(point)}`;
  return `Resistivity follows ${pointText(point)} at ${listText(found.map(placeText))}`;
}

function alongLine(value: HeadResponse, q: number): Figure {
  const title = headTitle(value);
  const spec = stripSpec({
    title,
    subtitle:
      `Factor of resistivity for one metre more of head at ${pointText(value.point)}, with 90 % ` +
      "intervals",
    panels: value.slices.map((_, k) => slicePanel(value, k, q)),
    domain_m: [
      Math.min(...value.stretches.map((one) => one.from_m)),
      Math.max(...value.stretches.map((one) => one.to_m)),
    ],
  });
  return {
    id: `head-${value.point}`,
    title,
    caption:
      "One point a stretch, at its middle, one panel a depth slice; 1 is no response, below 1 " +
      "the ground grows more conductive as the water rises. A stretch is marked as following " +
      `where its false-discovery-adjusted p-value is at most ${q}. Logarithmic scale.`,
    spec,
  };
}

function slicePanel({ slices, stretches }: HeadResponse, k: number, q: number): PointsPanel {
  const points = stretches
    .map((one) => ({ one, slice: itemAt(one.bySlice, k) }))
    .filter(({ slice }) => slice.ratioPerMetre > 0)
    .map(({ one, slice }) => ({
      x_m: (one.from_m + one.to_m) / 2,
      y: slice.ratioPerMetre,
      lo: slice.interval[0],
      hi: slice.interval[1],
      group: slice.q <= q ? "follows the head" : "no response shown",
      text: placeText(one),
    }));
  // The colour goes by the order of appearance: quiet first, in every panel.
  points.sort(
    (a, b) => Number(a.group === "follows the head") - Number(b.group === "follows the head"),
  );
  return {
    kind: "points",
    label: `${depthText(itemAt(slices, k))} m depth`,
    scale: "log",
    points,
    legend: "Stretch",
  };
}

function overHead(value: HeadResponse, found: readonly StretchResponse[]): Figure {
  const factors = found.map((one) => {
    const { ratioPerMetre } = strongestSlice(one);
    return `${ratioPerMetre.toFixed(2)} times as high at ${placeText(one)}`;
  });
  const point = pointText(value.point);
  const title = `With each metre of ${point} the resistivity is ${listText(factors)}`;
  const spec = curveSpec({
    title,
    subtitle:
      `Mean resistivity of the stretch over that of ${value.campaigns[0]}; ` +
      "one point a campaign",
    x: { label: `Level of ${point} (m)`, scale: "linear" },
    y: { label: "Ratio", scale: "log" },
    legend: "",
    plots: found.map((one) => {
      const slice = strongestSlice(one);
      return {
        label: `${placeText(one)}, ${depthText(slice)} m deep`,
        series: [
          { name: "campaigns", form: "points" as const, x: value.head_m, y: slice.ratio },
          { name: "straight line", form: "line" as const, ...lineOver(value.head_m, slice) },
        ],
      };
    }),
  });
  return {
    id: `head-curves-${value.point}`,
    title,
    caption:
      "The level is that at the campaign's own time; where a lag fitted better, the points lie " +
      "off the line by what the level changed in between. The ratio is on a logarithmic scale.",
    spec,
  };
}

/** The fitted factor through the middle of the points. */
function lineOver(head: readonly number[], { ratio, ratioPerMetre }: SliceResponse) {
  const rows = presentPairs(head, ratio.map(Math.log10));
  const [h, y] = pairMeans(rows);
  const known = rows.map(([x]) => x);
  const x = [Math.min(...known), Math.max(...known)];
  return { x, y: x.map((at) => 10 ** (y + Math.log10(ratioPerMetre) * (at - h))) };
}
