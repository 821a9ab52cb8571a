/** Neighbouring stations of the same text. */
export interface TextRun {
  readonly first: number;
  readonly last: number;
  readonly text: string;
}

/** Runs of the same text, one a station; "" stands for none. */
export function textRuns(texts: readonly string[]): readonly TextRun[] {
  const runs: TextRun[] = [];
  for (const [i, text] of texts.entries()) {
    const before = runs.at(-1);
    if (text === "") continue;
    if (before?.last === i - 1 && before.text === text)
      runs[runs.length - 1] = { ...before, last: i };
    else runs.push({ first: i, last: i, text });
  }
  return runs;
}

/** Unbroken runs of stations with an estimate. */
export function estimatedRuns({ gap }: { readonly gap: readonly string[] }): readonly TextRun[] {
  return textRuns(gap.map((why) => (why === "" ? "estimate" : "")));
}
