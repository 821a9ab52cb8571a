/** Something wrong with a notebook that a user gave: every fault found, one a line. */
export class NotebookFault extends Error {
  override readonly name = "NotebookFault";
  readonly faults: readonly string[];

  constructor(faults: readonly string[]) {
    super(faults.join("\n"));
    this.faults = faults;
  }
}

/** A parameter was given for a name that the notebook does not declare. */
export class UnknownParameter extends NotebookFault {}
