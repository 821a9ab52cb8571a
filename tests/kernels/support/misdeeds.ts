// Cells that break what they run in.
const refusing = "new Proxy({}, new Proxy({}, { get() { throw 7 } }))";

/** What a cell does, and the error by which it fails. */
export const misdeeds: readonly (readonly [what: string, source: string, ename: string])[] = [
  ["throws a proxy that refuses", `throw ${refusing}`, "Thrown object"],
  [
    "throws an error whose getters throw",
    "throw Object.defineProperties(new Error(), { message: { get() { throw 1 } }, name: { get() { throw 2 } } })",
    "Error",
  ],
  ["shows itself as a number", '({ [Symbol.for("Jupyter.display")]: () => 7 })', "NotABundle"],
  [
    "shows a circle",
    'const o: any = {}; o.o = o;\n({ [Symbol.for("Jupyter.display")]: () => ({ "application/json": o }) })',
    "NotABundle",
  ],
  [
    "displays a number for a text",
    'display({ [Symbol.for("Jupyter.display")]: () => ({ "text/plain": 5n }) });',
    "NotABundle",
  ],
  [
    "replaces Array.prototype.map",
    'Array.prototype.map = () => { throw new Error("mine") };',
    "BuiltInReplaced",
  ],
  ["takes JSON away", "(globalThis as any).JSON = undefined;", "BuiltInReplaced"],
  ["adds to every object", "(Object.prototype as any).get = 1;", "BuiltInReplaced"],
];
