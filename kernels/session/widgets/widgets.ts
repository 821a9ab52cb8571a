import { type Frame, frameBundle, isFrame } from "../show/frame-table.js";
import { frameOf, type Shown, shown } from "../show/showing.js";
import type { WidgetParts } from "./choosing.js";
import { type SelectSettings, select } from "./select.js";
import { type SliderSettings, slider } from "./slider.js";
import { sortingTable } from "./sorting-table.js";

type Rows = Frame | readonly Readonly<Record<string, unknown>>[];

/** The cells' globals that let whoever has the notebook open choose something. */
export function createWidgets(parts: WidgetParts) {
  const { models } = parts;
  return {
    slider: (settings: SliderSettings) => slider(parts, settings),
    select: <Option>(options: readonly Option[], settings?: SelectSettings<Option>) =>
      select(parts, options, settings),
    table: (rows: Rows, { sortable = false } = {}): Shown => {
      const frame = isFrame(rows) ? rows : frameOf(rows);
      return shown(() => {
        const own = frameBundle(frame);
        if (!sortable || models === null || !models.areSeen) return own;
        return { ...sortingTable(frame, models).view, ...own };
      });
    },
  };
}
