import { types } from "node:util";
import { isFrame } from "../show/frame-table.js";

/** What a value looked like at one moment. Two that are the same object may differ in this. */
export interface Fingerprint {
  readonly hash: string;
  /** False where only a part of the value was read, or where it cannot be seen into. */
  readonly isWhole: boolean;
  readonly isObject: boolean;
  /** Steps that it took to read. */
  readonly cost: number;
}

export interface FingerprintOptions {
  /** Prototypes of classes that cells declared: their instances are looked into. */
  readonly prototypes: ReadonlySet<object>;
  /** Steps allowed: a property or an element is one, eight numbers of a list, 32 bytes of a typed array. */
  readonly most: number;
}

/** Steps for one value: under a millisecond. */
export const stepsForValue = 4000;
const wordsOfStep = 8;
const numbersOfStep = 8;
const deepest = 16;
const lettersOfText = 20_000;

/**
 * A hash of the contents of arrays, typed arrays, maps, sets, dates, data frames, matrices, plain
 * objects and instances of the cells' own classes; of all else, its identity. Of what is too large,
 * evenly spaced parts are read. Runs no code of the value's: getters and proxies are not asked.
 */
export function fingerprintOf(value: unknown, options: FingerprintOptions): Fingerprint {
  const reading = new Reading(options);
  reading.value(value, 0);
  const { hash, isWhole, cost } = reading;
  return { hash, isWhole, cost, isObject: isObject(value) };
}

function isObject(value: unknown): value is object {
  return (typeof value === "object" && value !== null) || typeof value === "function";
}

const identities = new WeakMap<object, number>();
let lastIdentity = 0;

function identityOf(value: object): number {
  const known = identities.get(value);
  if (known !== undefined) return known;
  lastIdentity += 1;
  identities.set(value, lastIdentity);
  return lastIdentity;
}

const number = new Float64Array(1);
const wordsOfNumber = new Int32Array(number.buffer);

class Reading {
  isWhole = true;
  cost = 0;
  readonly #options: FingerprintOptions;
  readonly #seen = new Map<object, number>();
  #first = 0x9e3779b9;
  #second = 0x85ebca6b;

  constructor(options: FingerprintOptions) {
    this.#options = options;
  }

  get hash(): string {
    return `${(this.#first >>> 0).toString(36)}.${(this.#second >>> 0).toString(36)}`;
  }

  value(value: unknown, depth: number): void {
    this.cost += typeof value === "number" ? 1 / numbersOfStep : 1;
    if (typeof value === "number") this.#number(value);
    else if (typeof value === "string") this.#text(value);
    else if (isObject(value)) this.#object(value, depth);
    else this.#text(`${typeof value} ${String(value)}`);
  }

  #object(value: object, depth: number): void {
    const known = this.#seen.get(value);
    if (known !== undefined) {
      this.#word(known);
      return;
    }
    this.#seen.set(value, this.#seen.size);
    if (depth > deepest || typeof value === "function" || types.isProxy(value)) this.#unseen(value);
    else if (Array.isArray(value)) this.#list(value, depth);
    else if (ArrayBuffer.isView(value)) this.#bytes(value);
    else if (types.isMap(value))
      this.#entries([...Map.prototype.entries.call(value)].flat(), depth);
    else if (types.isSet(value)) this.#entries([...Set.prototype.values.call(value)], depth);
    else if (types.isDate(value)) this.#number(Date.prototype.getTime.call(value));
    else if (this.#isOpen(value)) this.#properties(value, depth);
    else this.#unseen(value);
  }

  // A class of a package may keep things for later use in its instances, which is no change.
  #isOpen(value: object): boolean {
    const prototype = Object.getPrototypeOf(value) as object | null;
    if (prototype === null || prototype === Object.prototype) return true;
    return this.#options.prototypes.has(prototype) || hasFields(value, "data", "rows", "columns")
      ? true
      : hasFields(value, "$data", "$columns", "$index") && isFrame(value);
  }

  #unseen(value: object): void {
    if (typeof value !== "function") this.isWhole = false;
    this.#word(identityOf(value));
  }

  #list(list: readonly unknown[], depth: number): void {
    this.#word(list.length);
    this.#entries(list, depth);
  }

  #entries(list: readonly unknown[], depth: number): void {
    this.#word(list.length);
    const left = Math.max(1, this.#options.most - this.cost);
    const each = typeof list[0] === "number" ? numbersOfStep : 1;
    const stride = this.#stride(list.length, left * each);
    for (let at = 0; at < list.length; at += stride) {
      if (this.#isSpent()) return;
      this.value(list[at], depth + 1);
    }
    if (stride > 1) this.value(list.at(-1), depth + 1);
  }

  #properties(value: object, depth: number): void {
    const keys = Object.keys(value);
    this.#word(keys.length);
    for (const key of keys) {
      if (this.#isSpent()) return;
      this.#text(key);
      const descriptor = Object.getOwnPropertyDescriptor(value, key);
      if (descriptor !== undefined && "value" in descriptor) {
        this.value(descriptor.value, depth + 1);
      } else this.isWhole = false;
    }
  }

  #bytes({ buffer, byteOffset, byteLength }: ArrayBufferView): void {
    this.#word(byteLength);
    const bytes = new Uint8Array(buffer, byteOffset, byteLength);
    const isEven = byteOffset % 4 === 0 && byteLength % 4 === 0;
    const words = isEven ? new Int32Array(buffer, byteOffset, byteLength / 4) : bytes;
    const left = Math.max(64, (this.#options.most - this.cost) * wordsOfStep);
    const stride = this.#stride(words.length, left);
    for (let at = 0; at < words.length; at += stride) this.#word(words[at] as number);
    this.cost += Math.ceil(words.length / stride / wordsOfStep);
  }

  // Odd, so that both halves of numbers are met.
  #stride(length: number, most: number): number {
    if (length <= most) return 1;
    this.isWhole = false;
    return Math.ceil(length / most) | 1;
  }

  #isSpent(): boolean {
    if (this.cost < this.#options.most) return false;
    this.isWhole = false;
    return true;
  }

  #number(value: number): void {
    number[0] = value;
    this.#word(wordsOfNumber[0] as number);
    this.#word(wordsOfNumber[1] as number);
  }

  #text(text: string): void {
    this.#word(text.length);
    const stride = this.#stride(text.length, lettersOfText);
    for (let at = 0; at < text.length; at += stride) this.#word(text.charCodeAt(at));
    this.cost += text.length / stride / wordsOfStep;
  }

  // Two multiplicative hashes with different factors, as of the FNV family.
  #word(word: number): void {
    this.#first = Math.imul(this.#first ^ word, 0x01000193);
    this.#second = Math.imul((this.#second << 13) ^ (this.#second >>> 19) ^ word, 0x5bd1e995);
  }
}

function hasFields(value: object, ...names: readonly string[]): boolean {
  return names.every((name) => {
    const descriptor = Object.getOwnPropertyDescriptor(value, name);
    return descriptor !== undefined && "value" in descriptor;
  });
}
