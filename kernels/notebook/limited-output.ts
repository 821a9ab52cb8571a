import type { SentOutput } from "../session/show/outputs.js";

/** Characters of text that one cell may write; a notebook of more opens nowhere. */
export const longestText = 10_000_000;

const told = {
  output_type: "stream",
  name: "stderr",
  text: `\n… the cell wrote more than ${longestText.toLocaleString("en")} characters; the rest is left out\n`,
} as const;

/** Hands outputs on, of a cell's text only so much. `begin` starts the count for the next cell. */
export function limitedOutput(send: (output: SentOutput) => void) {
  let written = 0;
  return {
    begin: () => {
      written = 0;
    },
    send: (output: SentOutput) => {
      if (output.output_type !== "stream") return send(output);
      const left = longestText - written;
      written += output.text.length;
      if (left <= 0) return;
      send({ ...output, text: output.text.slice(0, left) });
      if (written > longestText) send(told);
    },
  };
}
