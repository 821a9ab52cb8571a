/**
 * The part of an executed nbformat-4.5 notebook that an appendix shows. Any notebook of that format
 * fits; texts may be whole or in lines.
 */
export interface AppendixNotebook {
  readonly metadata: Readonly<Record<string, unknown>>;
  readonly cells: readonly AppendixCell[];
}

export interface AppendixCell {
  readonly cell_type: "markdown" | "code" | "raw";
  readonly metadata?: Readonly<Record<string, unknown>>;
  readonly source: Lines;
  readonly attachments?: Readonly<Record<string, MimeBundle>>;
  readonly execution_count?: number | null;
  readonly outputs?: readonly AppendixOutput[];
}

export type AppendixOutput =
  | { readonly output_type: "stream"; readonly name: string; readonly text: Lines }
  | { readonly output_type: "display_data" | "execute_result"; readonly data: MimeBundle }
  | {
      readonly output_type: "error";
      readonly ename: string;
      readonly evalue: string;
      readonly traceback: readonly string[];
    };

/** Text, whole or as lines that end with their line breaks. */
export type Lines = string | readonly string[];

export type MimeBundle = Readonly<Record<string, unknown>>;

/** Text of a notebook in one piece. */
export function wholeText(lines: unknown): string {
  if (Array.isArray(lines)) return lines.join("");
  return typeof lines === "string" ? lines : "";
}
