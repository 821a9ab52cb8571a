/** Depths between which a slice lies, m. */
interface SliceBounds {
  readonly top_m: number;
  readonly base_m: number;
}

/** A column of a nested field, the unit last: "interval_low_m" of "interval_m" and "low". */
export function columnName(field: string, tags: readonly string[]): string {
  const unitAt = field.indexOf("_");
  if (unitAt <= 0) return [field, ...tags].join("_");
  return [field.slice(0, unitAt), ...tags, field.slice(unitAt + 1)].join("_");
}

/** "0.0-0.5" of a slice from 0 to 0.5 m; more decimals only where they are needed. */
export function sliceTag({ top_m, base_m }: SliceBounds): string {
  return `${decimals(top_m)}-${decimals(base_m)}`;
}

export function isSlice(value: unknown): value is SliceBounds {
  const { top_m, base_m } = (value ?? {}) as Partial<SliceBounds>;
  return typeof top_m === "number" && typeof base_m === "number";
}

function decimals(depth_m: number): string {
  return Number.isInteger(depth_m) ? depth_m.toFixed(1) : String(Number(depth_m.toFixed(6)));
}
