/** Answers by what they answer: `walk.txt: date order` of one file, `timezone` of all. */
export type Answers = ReadonlyMap<string, string>;

/** One thing that must be known before a file can be read. */
export interface Matter {
  /** Left out for what holds of the whole survey. */
  readonly file?: string;
  readonly name: string;
  /** One answer serves all files, unless one is given for the file. */
  readonly isShared?: boolean;
  /** The question, as it is put to the user. */
  readonly ask: string;
  /** Null where the files tell nothing. */
  readonly guess: string | null;
  /** What the guess rests on, or why there is none. */
  readonly why: string;
  /** The content leaves no doubt: it is recorded and not asked. */
  readonly isSure?: boolean;
  /** May stay without an answer. */
  readonly isOptional?: boolean;
  readonly choices?: readonly string[];
  /** The rule that an answer breaks; null where it is sound. */
  readonly broken?: (answer: string) => string | null;
}

/** A matter that only the user can settle. */
export interface Question extends Matter {
  readonly key: string;
}

/** How a matter was settled, for the record. */
export interface Settled {
  readonly key: string;
  readonly value: string;
  readonly because: string;
}

/** Settles what must be known, from answers and from what files show, and keeps what stays open. */
export class Enquiry {
  readonly #given: Answers;
  readonly #earlier: Answers;
  readonly #questions = new Map<string, Question>();
  readonly #settled = new Map<string, Settled>();
  readonly #asked = new Set<string>();
  readonly #faults = new Set<string>();

  /** `earlier` answers, of files imported before, give way to what a file shows beyond doubt. */
  constructor(given: Answers, earlier: Answers = new Map()) {
    this.#given = given;
    this.#earlier = earlier;
  }

  /** What is known or guessed; null where it is neither. A guess stays a question. */
  settle(matter: Matter): string | null {
    const { file, name, guess, why } = matter;
    const own = file === undefined ? name : `${file}: ${name}`;
    this.#asked.add(own).add(name);
    const key = matter.isShared && !this.#given.has(own) ? name : own;
    const given = this.#sound(matter, this.#given.get(own) ?? this.#given.get(name), key);
    if (given !== null) return this.#settle(key, given, "as answered");
    if (matter.isSure && guess !== null) return this.#settle(own, guess, why);
    const earlier = this.#sound(matter, this.#earlier.get(name), key);
    if (earlier !== null) return this.#settle(key, earlier, "as in the import before");
    this.#questions.set(key, { ...matter, key });
    return guess;
  }

  /** True where the matter has an answer, given now or in an import before. */
  has(name: string, file: string): boolean {
    const key = `${file}: ${name}`;
    return this.#given.has(key) || this.#given.has(name) || this.#earlier.has(name);
  }

  #sound(matter: Matter, answer: string | undefined, key: string): string | null {
    if (answer === undefined) return null;
    const rule = ruleBroken(matter, answer);
    if (rule === null) return answer;
    this.#faults.add(`answer to "${key}": must be ${rule}, got "${answer}"`);
    return null;
  }

  #settle(key: string, value: string, because: string): string {
    this.#settled.set(key, { key, value, because });
    return value;
  }

  fault(text: string): void {
    this.#faults.add(text);
  }

  get faults(): readonly string[] {
    return [...this.#faults];
  }

  /** What must be answered, and what may be. */
  get questions(): readonly Question[] {
    return [...this.#questions.values()];
  }

  get settled(): readonly Settled[] {
    return [...this.#settled.values()];
  }

  /** Answers that no question asks for. */
  get unused(): readonly string[] {
    return [...this.#given.keys()].filter((key) => !this.#asked.has(key));
  }
}

/** The rule that an answer to a matter breaks; null where it is sound. */
export function ruleBroken({ choices, broken }: Matter, answer: string): string | null {
  if (choices !== undefined && !choices.includes(answer)) return `one of ${choices.join(", ")}`;
  return broken?.(answer) ?? null;
}

/** A rule for `Matter.broken`: a number, above a bound where one is given. */
export function numberRule(above: number | null): (answer: string) => string | null {
  return (answer) => {
    const value = answer.trim() === "" ? Number.NaN : Number(answer);
    if (above === null) return Number.isFinite(value) ? null : "a number";
    return Number.isFinite(value) && value > above ? null : `a number above ${above}`;
  };
}
