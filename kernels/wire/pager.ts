const asked = /^\s*(?:\?\??\s*([\w$.]+)|([\w$.]+)\s*\?\??)\s*$/;

/** The name that a cell asks about (`name?` or `?name`, which no TypeScript is); null for others. */
export function nameAskedAbout(code: string): string | null {
  const found = asked.exec(code);
  return found ? (found[1] ?? found[2] ?? null) : null;
}
