import { choosing, type WidgetParts } from "./choosing.js";
import type { Widget } from "./chosen-value.js";

export interface SelectSettings<Option> {
  /** Text before it. Default: none. */
  readonly label?: string;
  /** The option until another one is chosen, and in every run from top to bottom. Default: the first. */
  readonly value?: Option;
}

/** One of several options, chosen from a list. */
export function select<Option>(
  parts: WidgetParts,
  options: readonly Option[],
  settings: SelectSettings<Option> = {},
): Widget<Option> {
  if (!Array.isArray(options) || options.length === 0) {
    throw new TypeError("select: options must be a list with something to choose from");
  }
  const { label = "", value = options[0] as Option } = settings;
  const labels = options.map(String);
  const among = `of ${labels.join(", ")}`;
  if (!options.includes(value)) {
    throw new TypeError(`select: value must be one ${among}, got ${String(value)}`);
  }
  return choosing(parts, {
    label,
    declared: value,
    among,
    control: "Dropdown",
    state: { _options_labels: labels, index: options.indexOf(value) },
    read: ({ index }) => (typeof index === "number" ? options[index] : undefined),
  });
}
