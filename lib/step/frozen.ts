/** Freezes a plain value and all it holds, typed arrays (which cannot be frozen) excepted. */
export function frozen<Value>(value: Value): Value {
  if (typeof value !== "object" || value === null) return value;
  if (ArrayBuffer.isView(value) || Object.isFrozen(value)) return value;
  Object.freeze(value);
  for (const inner of Object.values(value)) frozen(inner);
  return value;
}
