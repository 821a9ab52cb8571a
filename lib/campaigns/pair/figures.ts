import {
  type LinesPanel,
  type PointsPanel,
  type Stretch,
  type StripSeries,
  stripSpec,
} from "../../figures/strip/strip.js";
import { directionColours, greys } from "../../figures/theme.js";
import { itemAt } from "../../numerics/arrays.js";
import type { Figure } from "../../step/figure.js";
import { listText } from "../../step/list-text.js";
import { depthText, placeText, signedText } from "../ranges.js";
import { type Change, type Changes, type OffsetStretch, rangeText } from "./changes.js";
import type { Comparison } from "./compared.js";
import type { CompareOptions } from "./options.js";

/** The ratio of each slice with its band, the stretches that changed, the unknown ones in grey. */
export function changesFigure({ value, corrected }: Comparison, used: CompareOptions): Figure {
  const title = changesTitle(value);
  const spec = stripSpec({
    title,
    subtitle:
      `Resistivity of ${value.later} over ${value.earlier} ` +
      `${corrected ? "at 25 °C" : "at field temperature"}, with 95 % bands`,
    panels: [
      ...value.slices.map((_, k) => ratioPanel(value, k)),
      ...effectPanel(value),
      ...shiftPanel(value),
      stretchesPanel(value),
    ],
    setAside: value.unknown.map((one) => ({ ...one, text: "unknown" })),
  });
  return {
    id: `changes-${value.earlier}-${value.later}`,
    title,
    caption: captionOf(value, used),
    // Each panel has its own groups, so its own colours and legend.
    spec: { ...spec, resolve: { scale: { color: "independent" } } },
  };
}

/** Such as "Resistivity fell to 0.82 times at 1838–1912 m and rose to 1.24 times at 520–571 m". */
function changesTitle({ changes, earlier, later }: Changes): string {
  if (changes.length === 0) return `No stretch changed from ${earlier} to ${later}`;
  if (changes.length > 3) return `${changes.length} stretches changed from ${earlier} to ${later}`;
  const parts = changes.map(
    (one) => `${one.direction} to ${one.ratio.toFixed(2)} times at ${placeText(one)}`,
  );
  return `Resistivity ${listText(parts)}`;
}

function captionOf({ by }: Changes, used: CompareOptions): string {
  const level =
    used.level === "majority" ? "1 is the level of the stable majority" : "1 is no difference";
  const mean =
    used.smoothing_m > 0 ? `moving mean over ${used.smoothing_m} m along the line` : "by station";
  return (
    `Later over earlier resistivity by depth slice (${mean}; ${level}; logarithmic scale). A ` +
    "curve is coloured where a reported stretch shows in its slice (error rate " +
    `${used.q}). Grey bands are unknown, not unchanged: one of the campaigns has no estimate ` +
    `there. ${WAY[by ?? "slices"]} The shift says where the later campaign was read: at the ` +
    "chainage plus the shift."
  );
}

const WAY: Readonly<Record<NonNullable<Changes["by"]>, string>> = {
  channels:
    "The curves explain the difference of the channels station by station and lean on 1 where a " +
    "slice is hardly seen; the ratios by depth explain a stretch as a whole, so they may lie off " +
    "the curves.",
  slices:
    "The ratios by depth are freed of what an estimate loses to its prior and to other slices, so " +
    "they may lie off the curves.",
};

function ratioPanel(value: Changes, k: number): LinesPanel {
  const depths = depthText(itemAt(value.slices, k));
  const { chainage_m: x } = value;
  const log10 = itemAt(value.log10Ratio, k);
  const sd = itemAt(value.sd, k);
  const ratio = log10.map((log) => 10 ** log);
  const band = (side: 1 | -1) => log10.map((log, i) => 10 ** (log + side * 1.96 * itemAt(sd, i)));
  const [lo, hi] = [band(-1), band(1)];
  const all = { name: "no change shown", x, y: ratio, lo, hi, colour: greys.quiet };
  const shown = (["fell", "rose"] as const).map((direction): StripSeries => {
    const here = value.changes.filter(
      (c) => c.direction === direction && c.slices.includes(depths),
    );
    const y = ratio.map((v, i) => (covers(here, itemAt(x, i)) ? v : Number.NaN));
    return { name: direction, x, y, colour: directionColours[direction] };
  });
  return {
    kind: "lines",
    label: `Ratio at ${depths} m depth`,
    scale: "log",
    series: [all, ...shown],
    zeroRule: true,
    height_px: 100,
    legend: "Ratio",
  };
}

/** The effect of each stretch by depth; within a stretch the slices stand side by side. */
function effectPanel({ changes, slices }: Changes): readonly PointsPanel[] {
  const points = slices.flatMap((slice) =>
    changes.flatMap((change) => effectPoint(change, depthText(slice))),
  );
  if (points.length === 0) return [];
  return [
    {
      kind: "points",
      label: "Ratio of each changed stretch by depth, with 90 % intervals",
      scale: "log",
      points,
      height_px: 90,
      legend: "Depth",
    },
  ];
}

/** One point where the slice has an effect; its depth is the group. */
function effectPoint(change: Change, group: string): PointsPanel["points"] {
  const all = change.bySlice ?? [];
  return all.flatMap((one, k) => {
    if (depthText(one) !== group) return [];
    const [lo, hi] = one.interval;
    const text = `${change.direction} at ${placeText(change)}`;
    const x_m = change.from_m + ((k + 0.5) / all.length) * (change.to_m - change.from_m);
    return [{ x_m, y: one.ratio, lo, hi, group: `${group} m`, text }];
  });
}

/** Where the later campaign was read, against the chainage of the earlier one. */
function shiftPanel({ shift_m, shiftSd_m, chainage_m, later }: Changes): readonly LinesPanel[] {
  if (shift_m === undefined || shiftSd_m === undefined) return [];
  const bound = (side: 1 | -1) =>
    shift_m.map((value, i) => value + side * 1.645 * itemAt(shiftSd_m, i));
  const [lo, hi] = [bound(-1), bound(1)];
  return [
    {
      kind: "lines",
      label: `Shift of ${later} along the line, with its 90 % band (m)`,
      scale: "linear",
      series: [{ name: "shift", x: chainage_m, y: shift_m, lo, hi, colour: greys.quiet }],
      zeroRule: true,
      height_px: 60,
      legend: "",
    },
  ];
}

const covers = (changes: readonly Change[], x: number) =>
  changes.some(({ from_m, to_m }) => x >= from_m && x <= to_m);

function stretchesPanel({ changes, offsets = [] }: Changes) {
  const stretches = [...changes.map(changeStretch), ...offsets.map(offsetStretch)];
  return {
    kind: "stretches",
    label: "Stretches that changed",
    stretches,
    colours: { ...directionColours, "not the ground": greys.quiet },
    legend: stretches.length > 0 ? "Resistivity" : "",
  } as const;
}

/** What was taken for another height of the coils, or other zeros. */
function offsetStretch({ from_m, to_m, kind, height_m }: OffsetStretch): Stretch {
  const text = kind === "height" ? `coils ${signedText(height_m, 2)} m` : "zeros";
  return { from_m, to_m, text, group: "not the ground", detail: `${text}: taken off` };
}

function changeStretch(change: Change): Stretch {
  const times = `× ${change.ratio.toFixed(2)}`;
  const depths = change.slices.join(", ");
  return {
    from_m: change.from_m,
    to_m: change.to_m,
    text: times,
    group: change.direction,
    detail: `${times}${rangeText(change)} at ${depths} m depth, q ${change.q.toPrecision(2)}`,
  };
}
