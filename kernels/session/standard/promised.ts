type Source<Value> = AsyncIterable<Value> | Iterable<Value | PromiseLike<Value>> | ArrayLike<Value>;

/**
 * Source: ECMA-262, 17th edition (draft of 2026), `Array.fromAsync`; as a method of `Array` and of
 * what extends it.
 */
export async function arrayFromAsync(
  this: unknown,
  source: Source<unknown>,
  each?: (value: unknown, index: number) => unknown,
  thisOfEach?: unknown,
): Promise<unknown[]> {
  if (each !== undefined && typeof each !== "function") {
    throw new TypeError("the second argument must be a function");
  }
  const Made = (typeof this === "function" ? this : Array) as new (length?: number) => unknown[];
  const taken = async (value: unknown, index: number) =>
    each === undefined ? value : await each.call(thisOfEach, value, index);
  const isIterable = Symbol.asyncIterator in Object(source) || Symbol.iterator in Object(source);
  const listed: unknown[] = isIterable ? [] : Array.from(source as ArrayLike<unknown>);
  const made = isIterable ? new Made() : new Made(listed.length);
  const values = isIterable ? (source as AsyncIterable<unknown>) : listed;
  let index = 0;
  for await (const value of values) {
    Object.defineProperty(made, index, { value: await taken(value, index), ...ordinary });
    index += 1;
  }
  made.length = index;
  return made;
}

const ordinary = { writable: true, enumerable: true, configurable: true };

/** Source: ECMA-262, 15th edition (2024), 27.2.4.8, `Promise.withResolvers`. */
export function promiseWithResolvers(this: PromiseConstructor) {
  let resolve: unknown;
  let reject: unknown;
  const promise = new this((...given) => {
    [resolve, reject] = given;
  });
  return { promise, resolve, reject };
}
