import { supplyMethods } from "../standard/supplied.js";

/** Thrown into a cell that replaced what the kernel itself stands on. */
export class BuiltInReplaced extends Error {
  override readonly name = "BuiltInReplaced";

  constructor(names: readonly string[]) {
    const [were, they] = names.length === 1 ? ["was", "it is"] : ["were", "they are"];
    super(`${names.join(", ")} ${were} changed, on which the kernel stands; ${they} put back`);
  }
}

interface Kept {
  readonly name: string;
  readonly owner: object;
  readonly key: string | symbol;
  readonly descriptor: PropertyDescriptor;
}

// What puts back calls nothing that may be replaced.
const { getOwnPropertyDescriptor, setPrototypeOf, defineProperty, deleteProperty, ownKeys } =
  Reflect;
const { is } = Object;

const globals = [
  ...["Object", "Function", "Array", "String", "Number", "Map", "Set", "WeakMap", "Promise"],
  ...["RegExp", "Symbol", "JSON", "Reflect", "Error", "Buffer", "process"],
];

const owners: readonly (readonly [name: string, owner: object])[] = [
  ...Object.entries({ Object, Array, String, Number, Promise, Symbol, JSON, Reflect }),
  ...[Object, Function, Array, String, Number, Map, Set, WeakMap, Promise, RegExp].map(
    ({ name, prototype }) => [`${name}.prototype`, prototype as object] as const,
  ),
];

/**
 * Supplies what this Node lacks, and remembers the built-ins that the session works with. The function it gives puts back those that
 * were changed or taken away since, takes out what was added to `Object.prototype`, and returns
 * their names. What was added elsewhere stays, and so does what a cell may want otherwise, such as
 * `Math.random`.
 */
export function keepBuiltIns(): () => readonly string[] {
  supplyMethods();
  const kept = [
    ...globals.map((key) => keptOf("", globalThis, key)),
    ...owners.flatMap(([name, owner]) => ownKeys(owner).map((key) => keptOf(name, owner, key))),
  ];
  const ownOfObjects = new Set(ownKeys(Object.prototype));
  return () => {
    const changed: string[] = [];
    for (let i = 0; i < kept.length; i++) {
      const one = kept[i];
      if (one !== undefined && isPutBack(one)) changed[changed.length] = one.name;
    }
    const added = ownKeys(Object.prototype).filter((key) => !ownOfObjects.has(key));
    for (const key of added) deleteProperty(Object.prototype, key);
    return [...changed, ...added.map((key) => nameOf("Object.prototype", key))];
  };
}

function keptOf(name: string, owner: object, key: string | symbol): Kept {
  const descriptor = getOwnPropertyDescriptor(owner, key) ?? {};
  // What may be added to Object.prototype is none of its own.
  setPrototypeOf(descriptor, null);
  return { name: nameOf(name, key), owner, key, descriptor };
}

function nameOf(owner: string, key: string | symbol): string {
  if (typeof key === "symbol") return `${owner}[${String(key)}]`;
  return owner === "" ? key : `${owner}.${key}`;
}

/** True for a built-in that was another one and is itself again. */
function isPutBack({ owner, key, descriptor }: Kept): boolean {
  const now = getOwnPropertyDescriptor(owner, key);
  if (now !== undefined) setPrototypeOf(now, null);
  const isSame =
    now !== undefined &&
    is(now.value, descriptor.value) &&
    now.get === descriptor.get &&
    now.set === descriptor.set;
  return !isSame && defineProperty(owner, key, descriptor);
}
