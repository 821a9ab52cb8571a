/** Such as "1.5, 4 and 10 kHz" of its parts. */
export function listText(parts: readonly string[]): string {
  if (parts.length < 2) return parts.join("");
  return `${parts.slice(0, -1).join(", ")} and ${parts[parts.length - 1]}`;
}
