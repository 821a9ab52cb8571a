/** What the set methods take beside sets: anything that has a size, tells members and lists them. */
interface SetLike<Value> {
  readonly size: number;
  has(value: Value): boolean;
  keys(): Iterator<Value>;
}

type Checked = SetLike<unknown>;

/**
 * The methods of sets that ECMAScript 2025 adds, for a Node that lacks them.
 * Source: ECMA-262, 16th edition (2025), 24.2.4, "Properties of the Set Prototype Object".
 */
export const setMethods = {
  union(this: Set<unknown>, other: Checked): Set<unknown> {
    const from = setLike(this, other);
    const made = new Set(this);
    for (const value of listed(from)) made.add(value);
    return made;
  },

  intersection(this: Set<unknown>, other: Checked): Set<unknown> {
    const from = setLike(this, other);
    if (this.size <= from.size) return kept(this, (value) => from.has(value));
    return kept(listed(from), (value) => this.has(value));
  },

  difference(this: Set<unknown>, other: Checked): Set<unknown> {
    const from = setLike(this, other);
    if (this.size <= from.size) return kept(this, (value) => !from.has(value));
    const made = new Set(this);
    for (const value of listed(from)) made.delete(value);
    return made;
  },

  symmetricDifference(this: Set<unknown>, other: Checked): Set<unknown> {
    const from = setLike(this, other);
    const made = new Set(this);
    for (const value of listed(from)) {
      if (this.has(value)) made.delete(value);
      else made.add(value);
    }
    return made;
  },

  isSubsetOf(this: Set<unknown>, other: Checked): boolean {
    const from = setLike(this, other);
    return this.size <= from.size && every(this, (value) => from.has(value));
  },

  isSupersetOf(this: Set<unknown>, other: Checked): boolean {
    const from = setLike(this, other);
    return this.size >= from.size && every(listed(from), (value) => this.has(value));
  },

  isDisjointFrom(this: Set<unknown>, other: Checked): boolean {
    const from = setLike(this, other);
    if (this.size <= from.size) return every(this, (value) => !from.has(value));
    return every(listed(from), (value) => !this.has(value));
  },
};

// "GetSetRecord": each of the three is read once, and a size that is no number is refused.
function setLike(receiver: Set<unknown>, other: Checked): Checked {
  Set.prototype.has.call(receiver, undefined);
  if (Object(other) !== other) throw new TypeError("the other value must be an object");
  const size = Number(other.size);
  if (Number.isNaN(size)) throw new TypeError("the size of the other value must be a number");
  if (Math.trunc(size) < 0)
    throw new RangeError("the size of the other value must not be negative");
  const { has, keys } = other;
  for (const [name, method] of Object.entries({ has, keys })) {
    if (typeof method !== "function") throw new TypeError(`the other value must have ${name}()`);
  }
  return {
    size: Math.trunc(size),
    has: (value) => Boolean(has.call(other, value)),
    keys: () => keys.call(other),
  };
}

function listed({ keys }: Checked): Iterable<unknown> {
  return { [Symbol.iterator]: keys };
}

function kept(values: Iterable<unknown>, isKept: (value: unknown) => boolean): Set<unknown> {
  const made = new Set();
  for (const value of values) if (isKept(value)) made.add(value);
  return made;
}

function every(values: Iterable<unknown>, isSo: (value: unknown) => boolean): boolean {
  for (const value of values) if (!isSo(value)) return false;
  return true;
}
