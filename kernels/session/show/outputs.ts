/** A Jupyter MIME bundle: MIME type → text, or JSON for `+json` types. */
export type MimeBundle = Readonly<Record<string, unknown>>;

export interface StreamOutput {
  readonly output_type: "stream";
  readonly name: "stdout" | "stderr";
  readonly text: string;
}

/** What is sent with an output and not stored in a notebook. */
export interface Transient {
  /** Names the output for later updates. */
  readonly display_id: string;
}

export interface DisplayOutput {
  readonly output_type: "display_data";
  readonly data: MimeBundle;
  readonly metadata: Readonly<Record<string, unknown>>;
  /** Set for what `display` shows, which may be updated later. */
  readonly transient?: Transient;
}

/** Takes the place of every output with the same display id. */
export interface UpdateOutput {
  readonly output_type: "update_display_data";
  readonly data: MimeBundle;
  readonly metadata: Readonly<Record<string, unknown>>;
  readonly transient: Transient;
}

/** Removes the cell's outputs so far; with `wait`, only when the next output comes. */
export interface ClearOutput {
  readonly output_type: "clear_output";
  readonly wait: boolean;
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

/** What a session sends, each named as its Jupyter message; `settled` makes cell outputs of it. */
export type SentOutput = CellOutput | UpdateOutput | ClearOutput;

export function displayOutput(data: MimeBundle): DisplayOutput {
  return { output_type: "display_data", data, metadata: alternativeTexts(data) };
}

export function resultOutput(data: MimeBundle, executionCount: number): ResultOutput {
  const metadata = alternativeTexts(data);
  return { output_type: "execute_result", execution_count: executionCount, data, metadata };
}

/** A display that later updates name by its id. */
export function namedDisplay(data: MimeBundle, displayId: string): DisplayOutput {
  return { ...displayOutput(data), transient: { display_id: displayId } };
}

export function updateOutput(data: MimeBundle, displayId: string): UpdateOutput {
  const transient = { display_id: displayId };
  return { output_type: "update_display_data", data, metadata: alternativeTexts(data), transient };
}

/** Longest text that stands for an image, characters. */
const alternativeText = 400;

// What notebook front ends give as an image's `alt`: the bundle's own text, which says what it shows.
function alternativeTexts(data: MimeBundle): Readonly<Record<string, unknown>> {
  const text = data["text/plain"];
  const images = Object.keys(data).filter((type) => type.startsWith("image/"));
  if (images.length === 0 || typeof text !== "string") return {};
  const alt = text.replace(/\s+/g, " ").trim();
  const short = alt.length > alternativeText ? `${alt.slice(0, alternativeText)}…` : alt;
  return Object.fromEntries(images.map((type) => [type, { alt: short }]));
}
