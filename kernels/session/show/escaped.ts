const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** A text as it stands in HTML. */
export function escaped(text: string): string {
  return text.replace(/[&<>"']/g, (character) => entities[character] ?? character);
}
