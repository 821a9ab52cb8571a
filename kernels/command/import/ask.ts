import { createInterface } from "node:readline/promises";
import { type Question, ruleBroken } from "../../../lib/index.js";

/** Somebody who can be asked. */
export interface Asker {
  /** The answer; null where an optional question is left open. */
  ask(question: Question): Promise<string | null>;
  close(): void;
}

/** Asks on a terminal until an answer is sound; Enter takes the guess. */
export function terminalAsker(input: NodeJS.ReadableStream, output: NodeJS.WritableStream): Asker {
  const lines = createInterface({ input, output });
  const ended = new Promise<never>((_, reject) => {
    lines.once("close", () => reject(new DOMException("the questions ended", "AbortError")));
  });
  ended.catch(() => {});
  return {
    async ask(question) {
      output.write(questionText(question));
      for (;;) {
        const typed = (await Promise.race([lines.question("> "), ended])).trim();
        const answer = typed === "" ? question.guess : typed;
        if (answer === null && question.isOptional) return null;
        const rule = answer === null ? "an answer" : ruleBroken(question, answer);
        if (rule === null) return answer;
        output.write(`It must be ${rule}.\n`);
      }
    },
    close: () => lines.close(),
  };
}

function questionText({ key, ask, choices, guess, why, isOptional }: Question): string {
  const of = choices === undefined ? "" : `\n  one of: ${choices.join(", ")}`;
  const enter = guess !== null ? `Enter: ${guess} (${why})` : isOptional ? "Enter: not known" : why;
  return `\n${key}\n  ${ask}${of}\n  ${enter}\n`;
}
