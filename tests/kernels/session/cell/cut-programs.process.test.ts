import { createContext, Script } from "node:vm";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { loadTypeScript } from "../../../../kernels/session/types/typescript.js";
import { type RemoteSession, startSession } from "../../support/session.js";

let session: RemoteSession;
beforeAll(() => {
  // Programs use the same names again: only what is printed counts here.
  session = startSession({ notices: false });
});
afterAll(() => session.stop());

/** What a statement is made from: its kind, four numbers, and whether a cell ends behind it. */
const seed = fc.record({
  kind: fc.nat(15),
  numbers: fc.array(fc.nat(99), { minLength: 4, maxLength: 4 }),
  cut: fc.boolean(),
});
type Seed = typeof seed extends fc.Arbitrary<infer Value> ? Value : never;

/** Names that a program has declared so far. */
interface Names {
  readonly variables: string[];
  readonly constants: string[];
  readonly functions: string[];
  readonly objects: string[];
}

/** A statement of TypeScript that uses only names declared above it. */
function statement(names: Names, { kind, numbers }: Seed): string {
  const [a = 0, b = 0, c = 0, d = 0] = numbers;
  const name = `${"abcdefghijklmnop"[kind]}${names.variables.length + names.constants.length + names.functions.length + names.objects.length}`;
  const pick = (list: readonly string[], at: number) => list[at % list.length] as string;
  const variable = pick(names.variables, a);
  const value = (at: number) => pick([...names.variables, ...names.constants, `${at}`], at);
  const sum = `(${value(b)} * 3 + ${value(c)} + ${d}) % 1009`;
  const bodies = [
    () => declare(names.variables, `let ${name}: number = ${sum};`),
    () => declare(names.constants, `const ${name} = ${sum};`),
    () => declare(names.variables, `var ${name} = ${sum};`),
    () =>
      declare(
        names.functions,
        `function ${name}(x: number): number { ${variable} += x; return ${sum} + x; }`,
      ),
    () => declare(names.functions, `const ${name} = (x: number): number => (${sum} + x) % 997;`),
    () =>
      declare(
        names.functions,
        `const ${name} = (() => { let k = ${sum}; return (x: number): number => { k += x; ${variable} += 1; return k % 991; }; })();`,
      ),
    () =>
      declare(
        names.objects,
        `class ${name.toUpperCase()} { n = ${sum}; add(x: number): number { this.n += x; ${variable} = (${variable} + this.n) % 983; return this.n; } }\nconst ${name} = new ${name.toUpperCase()}();`,
      ),
    () => `${variable} = ${sum};`,
    () => `${variable} += ${call(b, c)};`,
    () => `[${variable}, ${pick(names.variables, b)}] = [${sum}, ${variable}];`,
    () =>
      `for (let i = 0; i < ${1 + (a % 3)}; i++) { ${variable} = (${variable} + i + ${sum}) % 977; }`,
    () => `for await (const x of [${a}, Promise.resolve(${b})]) { ${variable} += x; }`,
    () =>
      `try { ${variable} += 1; if (${sum} % 2 > 0) throw new Error("odd"); } catch { ${variable} += ${call(c, d)}; } finally { ${variable} %= 971; }`,
    () => `${variable} = await Promise.resolve(${call(a, b)});`,
    () => `console.log(${sum}, ${call(a, d)});`,
    () => `{ const ${variable} = ${a}; console.log(${variable} + ${call(b, c)}); }`,
  ];
  function call(which: number, argument: number): string {
    const methods = names.objects.map((one) => `${one}.add`);
    const callables = [...names.functions, ...methods];
    return callables.length === 0 ? `${argument}` : `${pick(callables, which)}(${argument})`;
  }
  function declare(list: string[], text: string): string {
    list.push(name);
    return text;
  }
  return (bodies[kind] as () => string)();
}

function program(seeds: readonly Seed[], named: (text: string) => string) {
  const names: Names = { variables: ["v"], constants: [], functions: [], objects: [] };
  const statements = ["let v: number = 1;", ...seeds.map((one) => statement(names, one))];
  const { variables, constants, functions, objects } = names;
  const values = [
    ...variables,
    ...constants,
    ...functions.map((one) => `${one}(1)`),
    ...objects.map((one) => `${one}.n`),
  ];
  statements.push(`console.log(JSON.stringify([${values.join(", ")}]));`);
  const cells = [""];
  const written = named(statements.join("\0")).split("\0");
  for (const [at, text] of written.entries()) {
    cells[cells.length - 1] += `${text}\n`;
    if (seeds[at - 1]?.cut) cells.push("");
  }
  return { whole: written.join("\n"), cells: cells.filter((text) => text !== "") };
}

const globals =
  "Map Set Array Object Number String Symbol Date Math Function Proxy Reflect RegExp Buffer process " +
  "setTimeout fetch URL WeakMap window self NaN toString performance require __banquette";

/** The same program with names of globals for its own. */
function withGlobals(text: string): string {
  const free = globals.split(" ");
  const given = new Map<string, string>();
  return text.replace(/\b(v|[a-pA-P]\d+)\b/g, (name) => {
    const known = given.get(name) ?? free.shift() ?? name;
    given.set(name, known);
    return known;
  });
}

/** What Node prints for the program run whole, without a kernel. */
async function printedByNode(whole: string): Promise<string> {
  const ts = loadTypeScript();
  const { outputText } = ts.transpileModule(`(async () => {\n${whole}\n})()`, {
    compilerOptions: { target: ts.ScriptTarget.ES2022 },
  });
  const lines: string[] = [];
  const log = (...values: unknown[]) => lines.push(values.join(" "));
  await new Script(outputText).runInContext(createContext({ console: { log } }));
  return lines.map((line) => `${line}\n`).join("");
}

const noticeOf = (output: object) =>
  (output as { metadata?: { banquette?: { notice?: string } } }).metadata?.banquette?.notice;

async function printedByCells(cells: readonly string[]): Promise<string> {
  let printed = "";
  for (const cell of cells) {
    for (const output of await session.run(cell)) {
      // A name of an earlier program that gets another type is told, rightly: they share a session.
      if (noticeOf(output) === "types") continue;
      if (output.output_type === "stream") printed += output.text;
      else printed += `${output.output_type}: ${JSON.stringify(output)}\n`;
    }
  }
  return printed;
}

describe("a program cut into cells at any places", () => {
  it.each([
    ["its own", (text: string) => text],
    ["those of globals", withGlobals],
  ])("prints and leaves what it does when it runs whole, its names being %s", async (_, named) => {
    const seeds = fc.array(seed, { minLength: 3, maxLength: 14 });
    const property = fc.asyncProperty(seeds, async (given) => {
      const { whole, cells } = program(given, named);
      expect(await printedByCells(cells)).toBe(await printedByNode(whole));
    });
    await fc.assert(property, { numRuns: 40, seed: 1 });
  });
});
