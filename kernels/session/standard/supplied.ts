import { mapGroupBy, objectGroupBy } from "./grouping.js";
import { arrayFromAsync, promiseWithResolvers } from "./promised.js";
import { setMethods } from "./set-methods.js";

type Methods = Readonly<Record<string, (...given: never[]) => unknown>>;

const supplied: readonly (readonly [owner: object, methods: Methods])[] = [
  [Set.prototype, setMethods],
  [Object, { groupBy: objectGroupBy }],
  [Map, { groupBy: mapGroupBy }],
  [Array, { fromAsync: arrayFromAsync }],
  [Promise, { withResolvers: promiseWithResolvers }],
];

/** Gives this process those of these methods that its Node lacks; the others stay Node's own. */
export function supplyMethods(): void {
  for (const [owner, methods] of supplied) {
    for (const [name, value] of Object.entries(methods)) {
      if (name in owner) continue;
      Object.defineProperty(value, "name", { value: name, configurable: true });
      Object.defineProperty(owner, name, { value, writable: true, configurable: true });
    }
  }
}
