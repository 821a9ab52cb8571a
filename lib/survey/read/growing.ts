/** A column of numbers that grows as its file is read. */
export class GrowingNumbers {
  #values = new Float64Array(1024);
  #count = 0;

  push(value: number): void {
    if (this.#count === this.#values.length) {
      const larger = new Float64Array(2 * this.#count);
      larger.set(this.#values);
      this.#values = larger;
    }
    this.#values[this.#count++] = value;
  }

  done(): Float64Array {
    return this.#values.slice(0, this.#count);
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

/** Yes or no for each row. */
export class GrowingFlags {
  #values = new Uint8Array(1024);
  #count = 0;

  push(value: boolean): void {
    if (this.#count === this.#values.length) {
      const larger = new Uint8Array(2 * this.#count);
      larger.set(this.#values);
      this.#values = larger;
    }
    this.#values[this.#count++] = value ? 1 : 0;
  }

  done(): Uint8Array {
    return this.#values.slice(0, this.#count);
  }
}
