import type { CellOutput, DisplayOutput, SentOutput } from "./outputs.js";

/**
 * The outputs of one cell as a notebook stores them: updates in the place of what they update, what
 * was cleared left out, texts that follow each other on one stream joined, nothing transient.
 */
export function settled(sent: readonly SentOutput[]): CellOutput[] {
  let kept: CellOutput[] = [];
  let clearing = false;
  for (const output of sent) {
    if (output.output_type === "clear_output") {
      if (!output.wait) kept = [];
      clearing = output.wait;
      continue;
    }
    if (output.output_type === "update_display_data") {
      const { data, metadata, transient } = output;
      kept = kept.map((one) =>
        displayId(one) === transient.display_id ? { ...one, data, metadata } : one,
      );
      continue;
    }
    if (clearing) kept = [];
    clearing = false;
    addOutput(kept, output);
  }
  return kept.map(withoutTransient);
}

function addOutput(kept: CellOutput[], output: CellOutput): void {
  const last = kept.at(-1);
  const joins =
    output.output_type === "stream" && last?.output_type === "stream" && last.name === output.name;
  if (joins) kept[kept.length - 1] = { ...last, text: last.text + output.text };
  else kept.push(output);
}

function displayId(output: CellOutput): string | undefined {
  return output.output_type === "display_data" ? output.transient?.display_id : undefined;
}

function withoutTransient(output: CellOutput): CellOutput {
  if (output.output_type !== "display_data") return output;
  const { transient: _, ...stored } = output satisfies DisplayOutput;
  return stored;
}
