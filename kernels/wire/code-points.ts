/** The UTF-16 index at which the text's code point with this number begins; within the text. */
export function utf16Index(text: string, codePoints: number): number {
  let index = 0;
  for (let seen = 0; seen < codePoints && index < text.length; seen++) {
    index += (text.codePointAt(index) ?? 0) > 0xffff ? 2 : 1;
  }
  return index;
}

/** How many code points stand before this UTF-16 index. */
export function codePointCount(text: string, index: number): number {
  let count = 0;
  for (const _ of text.slice(0, Math.max(0, index))) count += 1;
  return count;
}
