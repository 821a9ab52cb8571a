import type { SentOutput } from "../session/show/outputs.js";
import { jsonText } from "./json-text.js";
import type { Content, Header, Outgoing } from "./messages.js";

/** The request from which an output comes, however late it comes. */
export interface Origin {
  readonly parent: Header;
  /** Nothing of it is shown. */
  readonly silent: boolean;
  /** False where the front end cannot be asked for input. Default true. */
  readonly allowsInput?: boolean;
  /** Told every output, shown or not. */
  readonly seen?: (output: SentOutput) => void;
}

/** An output as a message of the IOPub channel; null where it is not to be shown. */
export function outputMessage(output: SentOutput, origin: Origin | undefined): Outgoing | null {
  origin?.seen?.(output);
  if (origin?.silent) return null;
  return { type: output.output_type, parent: origin?.parent ?? null, content: contentOf(output) };
}

function contentOf(output: SentOutput): string {
  const { output_type: _, ...content } = output;
  const transient = "data" in content && !("transient" in content) ? { transient: {} } : {};
  return jsonText({ ...content, ...transient } as Content);
}
