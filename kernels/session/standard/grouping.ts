type Key<Value> = (value: Value, index: number) => unknown;

/** Source: ECMA-262, 15th edition (2024), 20.1.2.13, `Object.groupBy`. */
export function objectGroupBy<Value>(items: Iterable<Value>, keyOf: Key<Value>) {
  const groups = Object.create(null) as Record<PropertyKey, Value[]>;
  for (const [key, values] of grouped(items, keyOf, propertyKey)) groups[key] = values;
  return groups;
}

/** Source: ECMA-262, 15th edition (2024), 24.1.2.1, `Map.groupBy`. */
export function mapGroupBy<Value>(items: Iterable<Value>, keyOf: Key<Value>) {
  return grouped(items, keyOf, (key) => key);
}

function grouped<Value, Group>(
  items: Iterable<Value>,
  keyOf: Key<Value>,
  groupOf: (key: unknown) => Group,
): Map<Group, Value[]> {
  if (typeof keyOf !== "function") throw new TypeError("the second argument must be a function");
  const groups = new Map<Group, Value[]>();
  let index = 0;
  for (const item of items) {
    const key = groupOf(keyOf(item, index));
    const values = groups.get(key);
    if (values === undefined) groups.set(key, [item]);
    else values.push(item);
    index += 1;
  }
  return groups;
}

// As a property's name is made of any value.
function propertyKey(key: unknown): PropertyKey {
  const [made = ""] = Reflect.ownKeys({ [key as PropertyKey]: 0 });
  return made;
}
