/** Letters that a terminal obeys and does not show, and those that turn the way of reading. */
const controls = /[\p{Cc}\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu;

/**
 * A text from data or cells as a terminal may show it: what it would obey stands as a sign. Tabs
 * and ends of lines stay.
 */
export function terminalText(text: string): string {
  return text.replace(controls, (letter) => {
    if (letter === "\t" || letter === "\n") return letter;
    const code = letter.charCodeAt(0);
    if (code < 0x20) return String.fromCharCode(0x2400 + code);
    return code === 0x7f ? "\u2421" : "\ufffd";
  });
}
