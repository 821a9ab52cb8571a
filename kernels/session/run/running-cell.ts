import type { PlannedCell } from "../lineage/lineage-data.js";
import { Resources } from "./resources.js";

/** What the code of one running cell reaches of its own, under the session's global. */
export interface CellSide extends Pick<Resources, "use" | "useAsync"> {
  shown: unknown;
  /** Place of the top-level statement that the cell came to; -1 before the first. */
  at: number;
}

export interface CellToRun {
  readonly source: string;
  /** Number by which its code knows it. */
  readonly execution: number;
  /** Its execution count. */
  readonly count: number;
  readonly origin: unknown;
}

/** A cell on its way. Several may be, where one began while another waits. */
export class RunningCell {
  readonly source: string;
  readonly execution: number;
  readonly count: number;
  readonly origin: unknown;
  readonly resources = new Resources();
  readonly side: CellSide;
  /** Null for an expression that a front end asks for: nothing is made of it. */
  planned: PlannedCell | null = null;
  /** Types of all names before it. */
  declarations = "";
  /** Texts of the cells that began while it waited. */
  readonly beside: string[] = [];

  constructor({ source, execution, count, origin }: CellToRun) {
    this.source = source;
    this.execution = execution;
    this.count = count;
    this.origin = origin;
    const { resources } = this;
    this.side = {
      shown: undefined,
      at: -1,
      use: (value) => resources.use(value),
      useAsync: (value) => resources.useAsync(value),
    };
  }
}
