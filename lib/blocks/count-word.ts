const words = "None One Two Three Four Five Six Seven Eight Nine Ten Eleven Twelve".split(" ");

/** "Seven" at the head of a sentence; figures beyond twelve. */
export const countWord = (count: number): string => words[count] ?? String(count);
