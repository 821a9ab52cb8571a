import type { DisplayHandle } from "../show/display.js";
import { escaped } from "../show/escaped.js";
import type { MimeBundle } from "../show/outputs.js";
import { ChosenValue, type Widget } from "./chosen-value.js";
import type { WidgetState } from "./widget-model.js";
import type { WidgetModels } from "./widget-models.js";

/** What widgets are made with. */
export interface WidgetParts {
  /** Null where there is no front end. */
  readonly models: WidgetModels | null;
  readonly display: (...values: unknown[]) => DisplayHandle;
  /** Told when another value was chosen. */
  readonly chosen: (widget: object) => void;
  /** Number of the cell's execution that runs. */
  readonly execution: () => number;
}

/** A choice of one value, by a control of the front end where somebody is there. */
export interface Choosing<Value> {
  readonly label: string;
  /** The value until another one is chosen, and in every run from top to bottom. */
  readonly declared: Value;
  /** What can be chosen, in words. */
  readonly among: string;
  readonly control: "FloatSlider" | "Dropdown";
  readonly state: WidgetState;
  /** The value in what the control has changed; undefined where there is none that may be. */
  readonly read: (changes: WidgetState) => Value | undefined;
}

/** Shows the control where it is made, with a text for where none runs, and gives the value. */
export function choosing<Value>(parts: WidgetParts, choice: Choosing<Value>): Widget<Value> {
  const { label, declared, among, control, state, read } = choice;
  const { models } = parts;
  const chosen: ChosenValue<Value> = new ChosenValue({
    ...{ ...parts, declared },
    bundle: (value, isDeclared) => {
      const more = isDeclared ? among : `${among}; ${byHand(String(declared))}`;
      return { ...model?.view, ...staticBundle(label, String(value), more) };
    },
  });
  const told = {
    changed: (changes: WidgetState) => {
      const value = read(changes);
      if (value !== undefined) chosen.change(value);
    },
    closed: () => chosen.close(),
  };
  const seen = models?.areSeen === true ? models : null;
  const model = seen?.control(control, { description: label, ...state }, told);
  if (model !== undefined) chosen.open();
  chosen.show();
  return chosen.widget;
}

function byHand(declared: string): string {
  return `chosen by hand, declared is ${declared}, which a run from top to bottom takes`;
}

function staticBundle(label: string, value: string, more: string): MimeBundle {
  const before = label === "" ? "" : `${label}: `;
  return {
    "text/plain": `${before}${value} (${more})`,
    "text/html": `<p>${escaped(before)}<strong>${escaped(value)}</strong> (${escaped(more)})</p>`,
  };
}
