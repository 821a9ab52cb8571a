/** WebAssembly's instructions, each with the code that gives its operands. */
export type Code = readonly (number | Code)[];

/** Variable-length integers. Source: WebAssembly Core Specification 2.0, section 5.2.2. */
export function unsigned(value: number): number[] {
  const low = value & 0x7f;
  return value < 0x80 ? [low] : [low | 0x80, ...unsigned(Math.floor(value / 0x80))];
}

function signed(value: number): number[] {
  const low = value & 0x7f;
  const rest = value >> 7;
  const isLast = (rest === 0 && low < 0x40) || (rest === -1 && low >= 0x40);
  return isLast ? [low] : [low | 0x80, ...signed(rest)];
}

/** Opcodes by the specification's section 5.4. */
export const get = (at: number): Code => [0x20, unsigned(at)];
export const set = (at: number, value: Code): Code => [value, 0x21, unsigned(at)];
export const call = (at: number, ...given: Code[]): Code => [...given, 0x10, unsigned(at)];
export const back = (value: Code): Code => [value, 0x0f];

export const i32 = (value: number): Code => [0x41, signed(value)];
export const plus = (a: Code, b: Code): Code => [a, b, 0x6a];
export const minus = (a: Code, b: Code): Code => [a, b, 0x6b];
export const times = (a: Code, b: Code): Code => [a, b, 0x6c];
export const bitsOf = (a: Code, b: Code): Code => [a, b, 0x71];
export const isBelow = (a: Code, b: Code): Code => [a, b, 0x48];
export const isAtLeast = (a: Code, b: Code): Code => [a, b, 0x4e];

/** Memory is read and written at an address and a fixed offset, bytes. */
const place = (offset: number) => [3, unsigned(offset)];
export const f64Load = (at: Code, offset = 0): Code => [at, 0x2b, place(offset)];
export const f64Store = (at: Code, value: Code): Code => [at, value, 0x39, place(0)];
export const f64Add = (a: Code, b: Code): Code => [a, b, 0xa0];
export const f64Sub = (a: Code, b: Code): Code => [a, b, 0xa1];
export const f64Mul = (a: Code, b: Code): Code => [a, b, 0xa2];
export const f64Div = (a: Code, b: Code): Code => [a, b, 0xa3];
export const f64Sqrt = (a: Code): Code => [a, 0x9f];
export const f64IsAbove = (a: Code, b: Code): Code => [a, b, 0x64];
export const f64Zero: Code = [0x44, 0, 0, 0, 0, 0, 0, 0, 0];
export const f64Half: Code = [0x44, 0, 0, 0, 0, 0, 0, 0xe0, 0x3f];
export const i32Load = (at: Code): Code => [at, 0x28, 2, unsigned(0)];
export const i32LoadByte = (at: Code): Code => [at, 0x2d, 0, unsigned(0)];
export const not = (a: Code): Code => [a, 0x45];

const vector = (opcode: number): Code => [0xfd, unsigned(opcode)];
/** Two doubles side by side: `v2` for both lanes. */
export const v2Load = (at: Code, offset = 0): Code => [at, vector(0x00), place(offset)];
export const v2Store = (at: Code, value: Code, offset = 0): Code => {
  return [at, value, vector(0x0b), place(offset)];
};
/** One double in memory, in both lanes. */
export const v2LoadBoth = (at: Code): Code => [at, vector(0x0a), place(0)];
export const v2Both = (value: Code): Code => [value, vector(0x14)];
export const v2Lane = (value: Code, lane: 0 | 1): Code => [value, vector(0x21), lane];
export const v2Add = (a: Code, b: Code): Code => [a, b, vector(0xf0)];
export const v2Sub = (a: Code, b: Code): Code => [a, b, vector(0xf1)];
export const v2Mul = (a: Code, b: Code): Code => [a, b, vector(0xf2)];
export const v2Div = (a: Code, b: Code): Code => [a, b, vector(0xf3)];

/** A single-precision number in memory, as a double in both lanes; two of them side by side. */
export const v2FromSingle = (at: Code): Code => [at, vector(0x09), 2, unsigned(0), vector(0x5f)];
export const v2FromSingles = (at: Code): Code => [at, vector(0x5d), 2, unsigned(0), vector(0x5f)];
/** Lanes of ones where it holds, else of zeros. */
export const v2IsAtLeast = (a: Code, b: Code): Code => [a, b, vector(0x4c)];
export const v128Or = (a: Code, b: Code): Code => [a, b, vector(0x50)];
/** 1 where any bit is. */
export const v128Any = (a: Code): Code => [a, vector(0x53)];

const NOTHING = 0x40;
export const when = (test: Code, then: Code): Code => [test, 0x04, NOTHING, then, 0x0b];

/** `body` as long as `test` holds before it. */
export const during = (test: Code, body: Code): Code => {
  return [0x02, NOTHING, 0x03, NOTHING, not(test), 0x0d, 1, body, 0x0c, 0, 0x0b, 0x0b];
};

/** A local variable set to its value and something more. */
export const advance = (at: number, by: Code): Code => set(at, plus(get(at), by));
