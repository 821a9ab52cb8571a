/** An item that must be there. Throws a RangeError where the index lies outside. */
export function itemAt<Item>(list: ArrayLike<Item>, index: number): Item {
  const item = list[index];
  if (item === undefined) {
    throw new RangeError(`index ${index} lies outside a list of ${list.length}`);
  }
  return item;
}

/** The first item of a list that is not empty. */
export function firstOf<Item>(list: ArrayLike<Item>): Item {
  return itemAt(list, 0);
}

/** The last item of a list that is not empty. */
export function lastOf<Item>(list: ArrayLike<Item>): Item {
  return itemAt(list, list.length - 1);
}

/** The value of a key that must be there. */
export function entryOf<Key, Value>(map: ReadonlyMap<Key, Value>, key: Key): Value {
  const value = map.get(key);
  if (value === undefined) throw new RangeError(`no entry for ${String(key)}`);
  return value;
}

/** A value of a column, NaN outside of it: what lies beyond the ends is missing. */
export function valueAt(column: Float64Array, index: number): number {
  return column[index] ?? Number.NaN;
}

/** Neighbours of a list, each with the next. */
export function neighbours<Item>(list: readonly Item[]): (readonly [Item, Item])[] {
  return list.slice(1).map((next, i) => [itemAt(list, i), next] as const);
}

/** Items of two lists of one length, side by side. */
export function zipped<One, Other>(
  ones: readonly One[],
  others: readonly Other[],
): (readonly [One, Other])[] {
  return ones.map((one, i) => [one, itemAt(others, i)] as const);
}

/** The items of a list by key, keys in order of first appearance. */
export function groupedBy<Item, Key>(
  list: readonly Item[],
  keyOf: (item: Item) => Key,
): ReadonlyMap<Key, readonly Item[]> {
  const groups = new Map<Key, Item[]>();
  for (const item of list) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return groups;
}
