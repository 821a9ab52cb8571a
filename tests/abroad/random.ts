/** Seeded random numbers of this folder's own: a row for each name under a seed. */
export interface Chance {
  /** In [0, 1). */
  uniform(): number;
  /** Between two limits. */
  between(low: number, high: number): number;
  /** Of the standard normal distribution. */
  normal(): number;
  /** −1 or 1. */
  sign(): number;
}

/**
 * Rows of different names do not resemble each other, so that one more draw in one place moves
 * nothing elsewhere.
 * Source: Doty-Humphrey 2010, PractRand (the small fast counter generator of 32 bits, mem); Fowler,
 * Noll & Vo 1991 (the hash of the name, mem); Box & Muller 1958.
 */
export function chance(seed: number, name: string): Chance {
  const next = counterGenerator(hash(`${name}/${seed}`));
  const uniform = () => ((next() >>> 5) * 67108864 + (next() >>> 6)) / 9007199254740992;
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  const between = (low: number, high: number) => low + (high - low) * uniform();
  return { uniform, between, normal, sign: () => (uniform() < 0.5 ? -1 : 1) };
}

function hash(text: string): number {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  return h >>> 0;
}

function counterGenerator(seed: number): () => number {
  let [a, b, c, counter] = [seed | 0, 0x2545f491, 0x6a09e667, 1];
  const next = () => {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = ((c << 21) | (c >>> 11)) + sum;
    return sum >>> 0;
  };
  for (let i = 0; i < 16; i++) next();
  return next;
}
