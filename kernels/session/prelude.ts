/**
 * Declarations that every cell sees beside the ES2023 library: what Node 20 has and the TypeScript
 * 5.0 library files do not name yet, and the kernel's own `display`.
 */
export const prelude = `
/** Shows a value as an output of this cell, like a value that stands last. */
declare function display(...values: unknown[]): void;

interface Array<T> {
  toReversed(): T[];
  toSorted(compareFn?: (a: T, b: T) => number): T[];
  toSpliced(start: number, deleteCount?: number, ...items: T[]): T[];
  with(index: number, value: T): T[];
}
interface ReadonlyArray<T> {
  toReversed(): T[];
  toSorted(compareFn?: (a: T, b: T) => number): T[];
  toSpliced(start: number, deleteCount?: number, ...items: T[]): T[];
  with(index: number, value: T): T[];
}
interface Float64Array {
  toReversed(): Float64Array;
  toSorted(compareFn?: (a: number, b: number) => number): Float64Array;
  with(index: number, value: number): Float64Array;
}
interface Float32Array {
  toReversed(): Float32Array;
  toSorted(compareFn?: (a: number, b: number) => number): Float32Array;
  with(index: number, value: number): Float32Array;
}
interface Int32Array {
  toReversed(): Int32Array;
  toSorted(compareFn?: (a: number, b: number) => number): Int32Array;
  with(index: number, value: number): Int32Array;
}
`;
