import { openStep } from "../place/open-survey.js";
import type { AnyStep } from "../step/define-step.js";
import { optionsTable } from "../step/options/options-table.js";
import { accountCss } from "../step/show/account-css.js";
import type { DisplayBundle } from "../step/show/display.js";
import { tableHtml } from "../step/show/html.js";
import { standardLinks } from "./standard-links.js";

/** The options of a step as its definition declares them; it shows itself in a notebook. */
export class StepOptions {
  readonly step: string;
  readonly #definition: AnyStep;

  constructor(definition: AnyStep) {
    this.step = definition.name;
    this.#definition = definition;
  }

  /** Names of the options, in the order of their declaration. */
  get names(): readonly string[] {
    return Object.keys(this.#definition.options);
  }

  [Symbol.for("Jupyter.display")](): DisplayBundle {
    const table = optionsTable(this.step, this.#definition.options);
    const lines = table.rows.map(
      ({ option, rule, standard, meaning }) =>
        `${option}: ${rule}; default ${standard}. ${meaning}`,
    );
    return {
      "text/html": `<div class="bq"><style>${accountCss}</style>\n${tableHtml(table)}</div>`,
      "text/plain": [`${table.caption}:`, ...lines].join("\n"),
    };
  }
}

/**
 * The options of a step as documentation: what each must be, its default and its meaning.
 *
 * @param step - the name of a step's public function, such as "segmentBlocks", or the function itself.
 * @returns the options, which show themselves; null where no step of the chain has that name.
 * @example stepOptions(segmentBlocks)?.names[1] // "minLength_m"
 */
export function stepOptions(step: string | { readonly name: string }): StepOptions | null {
  const name = typeof step === "string" ? step : step.name;
  const found = [openStep, ...standardLinks.map((link) => link.step)].find(
    (one) => one.name === name,
  );
  return found === undefined ? null : new StepOptions(found);
}
