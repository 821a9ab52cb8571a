/** Declarations of the kernel's own globals, which every cell sees beside those of JavaScript. */
export const prelude = `
/** The way to show something else where \`display\` showed a value. */
interface DisplayHandle {
  readonly id: string;
  /** Shows these values where the first ones stand, one for one. */
  update(...values: unknown[]): void;
}

/** Shows values as outputs of this cell, like a value that stands last. */
declare function display(...values: unknown[]): DisplayHandle;

/** A value that shows itself. */
interface Shown {
  readonly [key: symbol]: () => unknown;
}

interface ImageOptions {
  /** What the image shows, for those who do not see it. */
  readonly alt?: string;
}

/** Shows a text as HTML. */
declare function html(text: string): Shown;
/** Shows a text as Markdown. */
declare function markdown(text: string): Shown;
/** Shows a text as mathematics; dollar signs around it are added where it has none. */
declare function latex(text: string): Shown;
/** Shows a text as an SVG drawing. */
declare function svg(text: string, options?: ImageOptions): Shown;
/** Shows the bytes, or the file at a path, of a PNG, JPEG, GIF or WebP image. */
declare function image(source: Uint8Array | string, options?: ImageOptions): Shown;
/** Shows a list of objects, or a data frame, as a table; \`sortable\` lets whoever reads it sort it. */
declare function table(rows: object, options?: { readonly sortable?: boolean }): Shown;
/** A Vega-Lite specification, which shows itself as a figure; its schema may be left out. */
declare function vegaLite<Spec extends object>(spec: Spec): Spec & { readonly $schema: string };

/** A value that whoever has the notebook open can change. */
interface Widget<Value> {
  /** As declared, until it is changed. */
  readonly value: Value;
  /** The next value that is chosen; where nobody can choose, as in a run, the one that is there. */
  next(): Promise<Value>;
  /** Calls the function with each new value; gives the function that ends it. */
  onChange(listener: (value: Value) => unknown): () => void;
}

/** Shows a slider. A run from top to bottom has the declared value. Steps are of 1 by default. */
declare function slider(settings: {
  readonly label?: string;
  readonly min: number;
  readonly max: number;
  readonly step?: number;
  readonly value: number;
}): Widget<number>;

/** Shows a list to choose from. A run from top to bottom has the declared value, else the first. */
declare function select<const Options extends readonly unknown[]>(
  options: Options,
  settings?: { readonly label?: string; readonly value?: Options[number] },
): Widget<Options[number]>;

/** Removes the outputs of this cell; with \`wait\`, only when the next output comes. */
declare function clearOutput(wait?: boolean): void;

/** Asks the user for a line of text; with \`password\`, what is typed stays hidden. */
declare function prompt(text?: string, options?: { readonly password?: boolean }): Promise<string>;

interface CommMessage {
  readonly data: Readonly<Record<string, unknown>>;
  readonly metadata: Readonly<Record<string, unknown>>;
  readonly buffers: readonly Uint8Array[];
}

interface CommSending {
  readonly metadata?: Readonly<Record<string, unknown>>;
  readonly buffers?: readonly Uint8Array[];
}

/** One end of a comm, a channel between the kernel and the front end. */
interface Comm {
  readonly id: string;
  readonly target: string;
  send(data: Readonly<Record<string, unknown>>, more?: CommSending): void;
  close(data?: Readonly<Record<string, unknown>>): void;
  /** Set to be told what comes. */
  onMessage: ((message: CommMessage) => void | Promise<void>) | null;
  /** Set to be told when the other end closes. */
  onClose: ((message: CommMessage) => void | Promise<void>) | null;
}

/** Channels between the kernel and the front end. */
declare const comms: {
  /** Takes comms that the front end opens under this name; null takes no more. */
  register(
    target: string,
    handler: ((comm: Comm, opening: CommMessage) => void | Promise<void>) | null,
  ): void;
  /** Opens a comm to the front end's target of this name. */
  open(target: string, data?: Readonly<Record<string, unknown>>, more?: CommSending): Comm;
};

interface ProgressOptions {
  /** Text before the bar. */
  readonly label?: string;
  /** Number of items; without it (and without a length), a count and no bar. */
  readonly total?: number;
}

/** The items, one by one, with a bar that shows how many have been done. */
declare function progress<Item>(items: Iterable<Item> & object, options?: ProgressOptions): Iterable<Item>;
/** The items, one by one as they come, with a bar that shows how many have been done. */
declare function progress<Item>(items: AsyncIterable<Item>, options?: ProgressOptions): AsyncIterable<Item>;
/** A function for options that are told how much is done: \`{ progress: progress("Blocks") }\`. */
declare function progress(label?: string | ProgressOptions): (done: number, total?: number) => void;
`;
