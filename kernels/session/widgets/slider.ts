import { choosing, type WidgetParts } from "./choosing.js";
import type { Widget } from "./chosen-value.js";

export interface SliderSettings {
  /** Text before it. Default: none. */
  readonly label?: string;
  readonly min: number;
  readonly max: number;
  /** Default 1. */
  readonly step?: number;
  /** The value until it is moved, and in every run from top to bottom. */
  readonly value: number;
}

/** A number that is chosen by a slider; told when it is let go. */
export function slider(parts: WidgetParts, settings: SliderSettings): Widget<number> {
  const { label = "", min, max, step = 1, value } = settings;
  check(settings);
  return choosing(parts, {
    label,
    declared: value,
    among: `from ${min} to ${max}`,
    control: "FloatSlider",
    state: {
      ...{ min, max, step, value, readout: true, readout_format: ".6~g" },
      ...{ continuous_update: false, orientation: "horizontal", behavior: "drag-tap" },
    },
    read: ({ value: now }) =>
      typeof now === "number" && now >= min && now <= max ? now : undefined,
  });
}

function check({ min, max, value, step = 1 }: SliderSettings): void {
  if (!(Number.isFinite(min) && Number.isFinite(max) && min < max)) {
    throw new TypeError(`slider: min must be a number below max, got ${min} and ${max}`);
  }
  if (!(step > 0)) throw new TypeError(`slider: step must be over 0, got ${step}`);
  if (!(value >= min && value <= max)) {
    throw new TypeError(`slider: value must be from ${min} to ${max}, got ${value}`);
  }
}
