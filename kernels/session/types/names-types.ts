import { compilerText } from "../cell/cell-text.js";
import { isGlobalName } from "../cell/global-names.js";
import { withoutUnreached } from "../cell/unreached.js";
import type { Lineage } from "../lineage/lineage.js";
import type { RunningCell } from "../run/running-cell.js";
import { recheckCaptors } from "./captured-types.js";
import { type CheckedCell, createTypeServices, type TypeServices } from "./type-services.js";

/** The types of all names of a session, as the cells so far have declared them. */
export class NamesTypes {
  readonly services: TypeServices;
  #declarations = "";

  /** Imports resolve from this folder. */
  constructor(folder: string) {
    this.services = createTypeServices(folder);
  }

  /** A declaration file of all names. */
  get declarations(): string {
    return this.#declarations;
  }

  /** Checks a cell; where it passes, its names are declared, with a sentence for each that no longer fits. */
  check(
    run: RunningCell,
    lineage: Lineage,
  ): { readonly checked: CheckedCell; readonly sentences: readonly string[] } {
    const { source, execution } = run;
    const before = this.#declarations;
    const checked = this.services.check(before, { source, execution });
    if (checked.faults.length > 0) return { checked, sentences: [] };
    const { declarations, sentences } = recheckCaptors(this.services, {
      source,
      execution,
      before,
      after: checked.declarations,
      capturing: (names) => lineage.capturing(names),
    });
    run.declarations = before;
    this.#declarations = declarations;
    return { checked, sentences };
  }

  /**
   * Names that a cell would have declared anew, had it not thrown before, keep their type. What began
   * while it waited has declared its names since.
   */
  keep(run: RunningCell, reached: number, lineage: Lineage): void {
    const { source, execution, beside } = run;
    const wasThere = (name: string) => lineage.has(name) || isGlobalName(name);
    const ran = withoutUnreached(source, reached, wasThere);
    if (ran === compilerText(source)) return;
    let kept = run.declarations;
    for (const text of [ran, ...beside.map(compilerText)]) {
      const cell = { source: `// unchecked\n${text}`, execution };
      const { faults, declarations } = this.services.check(kept, cell);
      if (faults.length === 0) kept = declarations;
      else if (text === ran) return;
    }
    this.#declarations = kept;
  }
}
