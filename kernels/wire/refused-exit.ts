/** Thrown where a cell would end the process that it runs in. */
export class ExitRefused extends Error {
  override readonly name = "ExitRefused";

  constructor(call: string) {
    super(
      `${call} would end the kernel and all that its cells made: the cell ends here instead; ` +
        "the front end stops and restarts the kernel",
    );
  }
}

/** Makes `process.exit` and `process.abort` an error of the cell; gives the way that really ends the process. */
export function refuseExit(): () => never {
  const exit = process.exit.bind(process);
  process.exit = (code?: number | string | null) => {
    throw new ExitRefused(`process.exit(${code ?? ""})`);
  };
  process.abort = () => {
    throw new ExitRefused("process.abort()");
  };
  return () => exit(0);
}
