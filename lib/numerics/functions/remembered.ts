/** The last results of a pure function, by its arguments' text; the oldest is forgotten first. */
export class Remembered<Result> {
  private readonly results = new Map<string, Result>();

  constructor(private readonly most: number) {}

  /** The result for that text: the one that is there, else made and kept. */
  get(text: string, make: () => Result): Result {
    const known = this.results.get(text);
    if (known !== undefined) return known;
    const made = make();
    this.results.set(text, made);
    const [oldest] = this.results.keys();
    if (this.results.size > this.most && oldest !== undefined) this.results.delete(oldest);
    return made;
  }
}
