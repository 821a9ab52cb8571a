import { describe, expect, it } from "vitest";
import { murmur2 } from "../../../../kernels/wire/debug/murmur2.js";

// Told step by step in the 32-bit arithmetic of the published algorithm, with whole numbers that do not
// overflow: another way than the code's.
function byWholeNumbers(text: string, seed: number): number {
  const word = (value: bigint) => value & 0xffffffffn;
  const m = 0x5bd1e995n;
  const bytes = Buffer.from(text);
  let hash = word(BigInt(seed) ^ BigInt(bytes.length));
  let at = 0;
  for (; at + 4 <= bytes.length; at += 4) {
    let k = word(BigInt(bytes.readUInt32LE(at)) * m);
    k = word((k ^ (k >> 24n)) * m);
    hash = word(hash * m) ^ k;
  }
  const left = [...bytes.subarray(at)];
  for (const [i, byte] of left.entries()) hash ^= BigInt(byte) << BigInt(8 * i);
  if (left.length > 0) hash = word(hash * m);
  hash = word((hash ^ (hash >> 13n)) * m);
  return Number(hash ^ (hash >> 15n));
}

describe("MurmurHash2", () => {
  it.each([
    "",
    "a",
    "ab",
    "abc",
    "abcd",
    "const x = 1;\n",
    "Größe in m – ρ = 30 Ωm",
    "x".repeat(99),
  ])("of %j is what the published algorithm gives", (text) => {
    for (const seed of [0, 1, 0x5ed6, 0x7fffffff]) {
      expect(murmur2(text, seed)).toBe(byWholeNumbers(text, seed));
    }
  });
});
