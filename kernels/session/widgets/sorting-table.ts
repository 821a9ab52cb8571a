import { type Frame, frameBundle } from "../show/frame-table.js";
import type { WidgetModel, WidgetState } from "./widget-model.js";
import type { WidgetModels } from "./widget-models.js";

const asGiven = "as given";

/** A table with a list of its columns and a button above it, by which it is sorted here. */
export function sortingTable(frame: Frame, models: WidgetModels): WidgetModel {
  const order = { column: -1, descends: false };
  const columns = frame.$isSeries ? ["value"] : frame.columns.map(String);
  const page = models.html(htmlOf(frame), ["jp-RenderedHTMLCommon"]);
  const redraw = () => page.set({ value: htmlOf(sorted(frame, order.column, order.descends)) });
  const by = models.control(
    "Dropdown",
    { description: "Sorted by", _options_labels: [asGiven, ...columns], index: 0 },
    {
      changed: ({ index }: WidgetState) => {
        order.column = typeof index === "number" ? index - 1 : -1;
        redraw();
      },
    },
  );
  const descends = models.control(
    "ToggleButton",
    { description: "Largest first", value: false, button_style: "", icon: "" },
    {
      changed: ({ value }: WidgetState) => {
        order.descends = value === true;
        redraw();
      },
    },
  );
  return models.box("VBox", [models.box("HBox", [by, descends]), page]);
}

function htmlOf(frame: Frame): string {
  return String(frameBundle(frame)["text/html"]);
}

/** The rows in the order of a column; a column below 0 leaves them as they are. */
export function sorted(frame: Frame, column: number, descends: boolean): Frame {
  if (column < 0) return frame;
  const keys = frame.values.map((row) =>
    frame.$isSeries ? row : (row as readonly unknown[])[column],
  );
  const sign = descends ? -1 : 1;
  const places = keys.map((_, at) => at).sort((a, b) => inOrder(keys[a], keys[b], sign) || a - b);
  return {
    $isSeries: frame.$isSeries,
    columns: frame.columns,
    index: places.map((at) => frame.index[at]),
    values: places.map((at) => frame.values[at]),
  };
}

// Numbers before texts; what is missing last, whichever way.
function inOrder(a: unknown, b: unknown, sign: number): number {
  if (isMissing(a) || isMissing(b)) return Number(isMissing(a)) - Number(isMissing(b));
  if (isNumber(a) && isNumber(b)) return sign * (Number(a) - Number(b));
  if (isNumber(a) !== isNumber(b)) return isNumber(a) ? -1 : 1;
  const [one, other] = [String(a), String(b)];
  return one === other ? 0 : sign * (one < other ? -1 : 1);
}

function isMissing(value: unknown): boolean {
  return value === null || value === undefined || value === "" || Number.isNaN(value);
}

function isNumber(value: unknown): boolean {
  return typeof value === "number" || typeof value === "bigint" || value instanceof Date;
}
