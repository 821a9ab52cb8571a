/** A Jupyter MIME bundle: MIME type → text, or JSON for `+json` types. */
export type MimeBundle = Readonly<Record<string, unknown>>;

export interface StreamOutput {
  readonly output_type: "stream";
  readonly name: "stdout" | "stderr";
  readonly text: string;
}

export interface DisplayOutput {
  readonly output_type: "display_data";
  readonly data: MimeBundle;
  readonly metadata: Readonly<Record<string, unknown>>;
}

export interface ResultOutput {
  readonly output_type: "execute_result";
  readonly execution_count: number;
  readonly data: MimeBundle;
  readonly metadata: Readonly<Record<string, unknown>>;
}

export interface ErrorOutput {
  readonly output_type: "error";
  readonly ename: string;
  readonly evalue: string;
  readonly traceback: readonly string[];
}

/** What a cell shows, in the form of nbformat 4.5 with texts still whole. */
export type CellOutput = StreamOutput | DisplayOutput | ResultOutput | ErrorOutput;

export function displayOutput(data: MimeBundle): DisplayOutput {
  return { output_type: "display_data", data, metadata: {} };
}

export function resultOutput(data: MimeBundle, executionCount: number): ResultOutput {
  return { output_type: "execute_result", execution_count: executionCount, data, metadata: {} };
}
