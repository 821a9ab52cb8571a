/** A legend is shown where there is something to tell apart or a heading; a blank heading is a no. */
export function legendShown(heading: string | undefined, entries: number): boolean {
  if (heading === "") return false;
  return entries > 1 || heading !== undefined;
}
