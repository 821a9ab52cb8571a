type Danfo = typeof import("danfojs-node");
type Method = (...given: unknown[]) => unknown;

const mended = new WeakSet<Danfo>();

/**
 * danfo.js, with one fault mended: where rows are picked by yes or no, its version 1.2 takes the
 * index's labels for places, so that a frame with chainages for its index would fail or give other
 * rows. Here the places are counted out before it sees them.
 */
export async function danfo(): Promise<Danfo> {
  const module = await import("danfojs-node");
  if (!mended.has(module)) mend(module);
  mended.add(module);
  return module;
}

function mend({ DataFrame, Series }: Danfo): void {
  replace(DataFrame.prototype, "query", (rows) => places(rows));
  replace(Series.prototype, "iloc", (rows) => places(rows));
  replace(DataFrame.prototype, "iloc", (picked) => {
    const { rows, ...rest } = (picked ?? {}) as { readonly rows?: unknown };
    return rows === undefined ? rest : { ...rest, rows: places(rows) };
  });
}

/**
 * On the class that has the method: what it gives back is of that class, not of the exported one.
 */
function replace(prototype: object, name: string, first: (given: unknown) => unknown): void {
  let owner = prototype;
  while (!Object.hasOwn(owner, name)) owner = Object.getPrototypeOf(owner);
  const methods = owner as Record<string, Method>;
  const method = methods[name];
  methods[name] = function (this: unknown, given, ...rest) {
    return method?.call(this, first(given), ...rest);
  };
}

/** Places of what is true; anything but a list of yes and no, or a series of them, as it is. */
function places(rows: unknown): unknown {
  const held = Array.isArray(rows) ? rows : (rows as { readonly values?: unknown } | null)?.values;
  if (!Array.isArray(held) || !held.every((one) => typeof one === "boolean")) return rows;
  return held.flatMap((one, place) => (one ? [place] : []));
}
