/** A number's cell; blank for NaN. */
export function number(value: number, digits: number): string {
  return Number.isNaN(value) ? "" : value.toFixed(digits);
}

/** No cell here holds a comma or a quote. */
export function csvOf(header: readonly string[], rows: readonly (readonly string[])[]): string {
  return `${[header, ...rows].map((row) => row.join(",")).join("\n")}\n`;
}
