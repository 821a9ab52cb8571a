import type { TopLevelSpec } from "vega-lite";
import type { VegaLiteSpec } from "../step/figure.js";
import { theme } from "./theme.js";
import { type Headed, titleBlock } from "./title.js";

type WithLayers = Extract<TopLevelSpec, { readonly layer: unknown }>;
type WithPanels = Extract<TopLevelSpec, { readonly vconcat: unknown }>;
type CompositeMark = { readonly type: "boxplot" | "errorbar" | "errorband" };

/** Panels of a figure, whatever way they are put together, without what every figure has. */
type Body<Spec> = Spec extends unknown ? Omit<Spec, "$schema" | "title" | "config"> : never;

/** One panel of several. */
export type Panel = WithPanels["vconcat"][number];
/** A mark with the data and the encoding that draw it. */
export type Layer = Extract<WithLayers["layer"][number], { readonly mark: unknown }>;
export type Mark = Exclude<Layer["mark"], string | CompositeMark>;
export type Encoding = NonNullable<Layer["encoding"]>;
export type Colour = Required<Encoding>["color"];
export type Tooltip = Required<Encoding>["tooltip"];
/** Where a mark stands along an axis. */
export type Position = Extract<Encoding["x"], { readonly field?: unknown }>;
/** Positions of several fields along one axis. */
export type Positions = (field: string) => Position;
/** A datum of a figure: short field names, numbers rounded. */
export type Row = Readonly<Record<string, string | number | null | undefined>>;

/** A figure's whole specification: the common schema, title and theme, and the panels. */
export function figureSpec(
  headed: Headed,
  width_px: number,
  body: Body<TopLevelSpec>,
): VegaLiteSpec {
  return {
    $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    title: titleBlock(headed, width_px),
    config: theme,
    ...body,
  };
}

/** A layer whose mark says all itself, such as a heading. */
export function fixedLayer(mark: Mark): Layer {
  return { data: { values: [{}] }, encoding: {}, mark };
}

/** What stands where a figure has nothing to draw. */
export function emptyView(width_px: number): Panel {
  return {
    width: width_px,
    height: 40,
    data: { values: [{ t: "No data for this figure" }] },
    mark: { type: "text", x: 0, align: "left" },
    encoding: { text: { field: "t" } },
  };
}
