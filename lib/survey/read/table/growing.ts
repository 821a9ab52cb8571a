/** Numbers in a typed array that grows as its file is read. */
export class GrowingNumbers<Numbers extends Float64Array | Uint8Array> {
  readonly #make: new (
    length: number,
  ) => Numbers;
  #values: Numbers;
  #count = 0;

  constructor(make: new (length: number) => Numbers) {
    this.#make = make;
    this.#values = new make(1024);
  }

  push(value: number): void {
    if (this.#count === this.#values.length) {
      const larger = new this.#make(2 * this.#count);
      larger.set(this.#values);
      this.#values = larger;
    }
    this.#values[this.#count++] = value;
  }

  done(): Numbers {
    return this.#values.slice(0, this.#count) as Numbers;
  }
}

/** Texts that repeat are kept once: a cell of its own would hold on to the text it was cut from. */
export class GrowingTexts {
  readonly #values: string[] = [];
  readonly #known = new Map<string, string>();

  push(value: string): void {
    const known = this.#known.get(value);
    if (known === undefined && this.#known.size < 10_000) this.#known.set(value, value);
    this.#values.push(known ?? value);
  }

  done(): readonly string[] {
    return this.#values;
  }
}
