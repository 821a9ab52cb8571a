/** True where the whole text fits the pattern: `*` is any text, `?` any one character. */
export function matchesGlob(text: string, pattern: string): boolean {
  let at = 0;
  let inPattern = 0;
  let star = -1;
  let retry = 0;
  while (at < text.length) {
    const wanted = pattern[inPattern];
    if (wanted === "*") {
      star = inPattern++;
      retry = at;
    } else if (wanted === "?" || wanted === text[at]) {
      at += 1;
      inPattern += 1;
    } else if (star >= 0) {
      // Let the last star take one character more; no more than length × length steps.
      inPattern = star + 1;
      at = ++retry;
    } else {
      return false;
    }
  }
  return /^\**$/.test(pattern.slice(inPattern));
}
