/** Objects of one kind that cannot be sent to another thread as they are. */
export interface ParcelKind {
  readonly name: string;
  /** What is sent in an object's place; undefined for objects of another kind. */
  readonly pack: (value: object) => unknown;
  readonly unpack: (sent: never) => unknown;
}

/** What can be sent to another thread: long columns stand in memory that both share. */
export interface Parcel {
  readonly content: unknown;
}

/** Columns from this size on are shared, bytes. */
const SHARED_FROM = 1024;
const KIND = "banquette.kind";

/**
 * A value for another thread. What is one object stays one object; plain objects, lists, maps, sets
 * and typed arrays go by themselves, others as their kind says. Null where it holds an object or a
 * function that no kind knows.
 */
export function packed(value: unknown, kinds: readonly ParcelKind[]): Parcel | null {
  const packing = new Packing(kinds);
  const content = packing.of(value);
  return packing.isWhole ? { content } : null;
}

class Packing {
  isWhole = true;
  readonly #done = new Map<object, unknown>();

  constructor(readonly kinds: readonly ParcelKind[]) {}

  of(value: unknown): unknown {
    if (typeof value === "symbol") this.isWhole = false;
    if ((typeof value !== "object" && typeof value !== "function") || value === null) return value;
    const before = this.#done.get(value);
    if (before !== undefined) return before;
    const made = this.#made(value);
    this.#done.set(value, made);
    return made;
  }

  #made(value: object): unknown {
    if (ArrayBuffer.isView(value)) return inSharedMemory(value);
    if (Array.isArray(value)) return value.map((item) => this.of(item));
    if (value instanceof Map) {
      return new Map([...value].map(([key, item]) => [this.of(key), this.of(item)]));
    }
    if (value instanceof Set) return new Set([...value].map((item) => this.of(item)));
    for (const { name, pack } of this.kinds) {
      const sent = pack(value);
      if (sent !== undefined) return { [KIND]: name, sent: this.of(sent) };
    }
    const prototype: unknown = Object.getPrototypeOf(value);
    if (prototype !== Object.prototype && prototype !== null) this.isWhole = false;
    return this.isWhole ? mapped(value, (item) => this.of(item)) : null;
  }
}

type Column = Float64Array | Int32Array | Uint8Array;

function inSharedMemory(view: ArrayBufferView): unknown {
  if (view.byteLength < SHARED_FROM || view instanceof DataView) return view;
  if (view.buffer instanceof SharedArrayBuffer) return view;
  const Kind = view.constructor as new (buffer: SharedArrayBuffer) => Column;
  const shared = new Kind(new SharedArrayBuffer(view.byteLength));
  shared.set(view as Column);
  return shared;
}

/** The value that was packed, as the other thread received it. */
export function unpacked({ content }: Parcel, kinds: readonly ParcelKind[]): unknown {
  const done = new Map<object, unknown>();
  const of = (value: unknown): unknown => {
    if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return value;
    const before = done.get(value);
    if (before !== undefined) return before;
    const made = unpackedObject(value, { of, kinds });
    done.set(value, made);
    return made;
  };
  return of(content);
}

interface Unpacking {
  readonly of: (value: unknown) => unknown;
  readonly kinds: readonly ParcelKind[];
}

function unpackedObject(value: object, { of, kinds }: Unpacking): unknown {
  if (Array.isArray(value)) return value.map(of);
  if (value instanceof Map) return new Map([...value].map(([key, item]) => [of(key), of(item)]));
  if (value instanceof Set) return new Set([...value].map(of));
  const { [KIND]: name, sent } = value as { readonly [KIND]?: string; readonly sent?: unknown };
  const kind = kinds.find((one) => one.name === name);
  return kind === undefined ? mapped(value, of) : kind.unpack(of(sent) as never);
}

function mapped(value: object, of: (item: unknown) => unknown): object {
  return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, of(item)]));
}
