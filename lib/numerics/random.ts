/** A source of random numbers that gives the same row for the same seed, on every machine. */
export interface Random {
  /** The next number in [0, 1), in steps of 2^-53. */
  uniform(): number;
  /** The next number of the standard normal distribution. */
  normal(): number;
  /** The next whole number in 0 … n − 1; n is 1 … 2^32. */
  integer(n: number): number;
}

/**
 * A seeded random source: xoshiro128** with its state filled by a mixing of the seed.
 *
 * Any finite number is a seed; numbers that differ give rows that do not resemble each other.
 * Normal numbers come by the polar method, whole ones by rejection, so neither is biased.
 * Throws a RangeError for a seed that is not finite, and for n outside 1 … 2^32.
 *
 * Source: Blackman & Vigna 2021, ACM Transactions on Mathematical Software 47(4), 36 (xoshiro);
 * Steele, Lea & Flood 2014, OOPSLA (splitting a seed); Marsaglia & Bray 1964 (polar method).
 *
 * @example seededRandom(7).integer(10); // 1
 */
export function seededRandom(seed: number): Random {
  if (!Number.isFinite(seed)) throw new RangeError(`seed must be a finite number, got ${seed}`);
  const next = xoshiro128(seed);
  const uniform = () => ((next() >>> 5) * 67108864 + (next() >>> 6)) / 9007199254740992;
  return { uniform, normal: polarNormals(uniform), integer: (n) => integerBelow(n, next) };
}

function polarNormals(uniform: () => number): () => number {
  let spare = Number.NaN;
  return () => {
    if (!Number.isNaN(spare)) {
      const kept = spare;
      spare = Number.NaN;
      return kept;
    }
    for (;;) {
      const x = 2 * uniform() - 1;
      const y = 2 * uniform() - 1;
      const square = x * x + y * y;
      if (!(square > 0 && square < 1)) continue;
      const scale = Math.sqrt((-2 * Math.log(square)) / square);
      spare = y * scale;
      return x * scale;
    }
  };
}

function integerBelow(n: number, next: () => number): number {
  if (!(Number.isInteger(n) && n >= 1 && n <= 4294967296)) {
    throw new RangeError(`n must be a whole number in 1 … 2^32, got ${n}`);
  }
  const limit = 4294967296 - (4294967296 % n);
  for (;;) {
    const bits = next();
    if (bits < limit) return bits % n;
  }
}

function xoshiro128(seed: number): () => number {
  const mix = seedMixer(seed);
  let a = mix();
  let b = mix();
  let c = mix();
  let d = mix();
  if ((a | b | c | d) === 0) a = 1;
  return () => {
    const result = Math.imul(rotateLeft(Math.imul(b, 5), 7), 9) >>> 0;
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = rotateLeft(d, 11);
    return result;
  };
}

const rotateLeft = (bits: number, by: number) => (bits << by) | (bits >>> (32 - by));

/** 32-bit splitmix over both halves of the seed as a double. */
function seedMixer(seed: number): () => number {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, seed === 0 ? 0 : seed);
  let state = view.getInt32(0) ^ Math.imul(view.getInt32(4), 0x9e3779b1);
  return () => {
    state = (state + 0x9e3779b9) | 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b);
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
    return z ^ (z >>> 16);
  };
}
