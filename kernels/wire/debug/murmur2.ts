const multiplier = 0x5bd1e995;

/**
 * MurmurHash2 of a text in UTF-8, 32 bits: the hash by which front ends know a cell's source while
 * debugging. Source: Appleby, MurmurHash2 (public domain).
 */
export function murmur2(text: string, seed: number): number {
  const bytes = new TextEncoder().encode(text);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let hash = seed ^ bytes.length;
  let at = 0;
  for (; bytes.length - at >= 4; at += 4) {
    let word = Math.imul(view.getUint32(at, true), multiplier);
    word = Math.imul(word ^ (word >>> 24), multiplier);
    hash = Math.imul(hash, multiplier) ^ word;
  }
  const left = bytes.length - at;
  for (let i = left - 1; i >= 0; i--) hash ^= (bytes[at + i] ?? 0) << (8 * i);
  if (left > 0) hash = Math.imul(hash, multiplier);
  hash = Math.imul(hash ^ (hash >>> 13), multiplier);
  return (hash ^ (hash >>> 15)) >>> 0;
}
