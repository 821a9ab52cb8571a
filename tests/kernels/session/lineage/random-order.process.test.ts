import { createContext, Script } from "node:vm";
import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { loadTypeScript } from "../../../../kernels/session/types/typescript.js";
import { type RemoteSession, startSession } from "../../support/session.js";

/** Programs checked; as many of them as can run in their final order count. */
const programs = Number(process.env.LINEAGE_PROGRAMS ?? 24);
const programsOfSession = 30;

let session: RemoteSession;
let ran = 0;
let compared = 0;
let differing = 0;
beforeAll(() => {
  session = startSession();
});
afterAll(() => session.stop());

const seed = fc.record({
  kind: fc.nat(16),
  numbers: fc.array(fc.nat(99), { minLength: 3, maxLength: 3 }),
  cut: fc.boolean(),
});
type Seed = typeof seed extends fc.Arbitrary<infer Value> ? Value : never;

interface Names {
  readonly numbers: string[];
  readonly lists: string[];
  readonly objects: string[];
  readonly tallies: string[];
  readonly generators: string[];
}

/** Statements that make values from each other, and change them in ways seen and unseen. */
function statement(names: Names, { kind, numbers: [a = 0, b = 0, c = 0] }: Seed, at: number) {
  const pick = (list: readonly string[], which: number) => list[which % list.length] as string;
  const terms = [
    ...names.numbers,
    ...names.lists.flatMap((one) => [`${one}.length`, `(${one}.at(-1) ?? 0)`]),
    ...names.objects.map((one) => `(${one}.k ?? 0)`),
    ...names.tallies.map((one) => `${one}.n`),
  ];
  const sum = `((${pick(terms, a)} * 3 + ${pick(terms, b)} + ${c}) % 101)`;
  const [list, object] = [pick(names.lists, a), pick(names.objects, b)];
  const [tally, generator] = [pick(names.tallies, c), pick(names.generators, a)];
  const made = (kept: string[], name: string, text: string) => {
    kept.push(name);
    return text;
  };
  const texts = [
    () => made(names.numbers, `n${at}_`, `let n${at}_ = ${sum};`),
    () => made(names.numbers, `m${at}_`, `const m${at}_ = ${sum} + ${generator}();`),
    () => made(names.lists, `l${at}_`, `const l${at}_ = [${sum}, ${c}];`),
    () => made(names.lists, `v${at}_`, `const v${at}_ = ${list};`),
    () => made(names.objects, `o${at}_`, `const o${at}_: Parts = { k: ${sum} };`),
    () => made(names.tallies, `t${at}_`, `const t${at}_ = new Tally_(${sum});`),
    () =>
      made(
        names.generators,
        `g${at}_`,
        `let s${at}_ = ${sum}; const g${at}_ = () => (s${at}_ = (s${at}_ * 7 + 1) % 97);`,
      ),
    () => `${pick(names.numbers, c)} += ${sum};`,
    () => `${pick(names.numbers, c)} = ${sum};`,
    () => `${list}.push(${sum});`,
    () => `grow_(${list}, ${sum});`,
    () => `${list}.sort();`,
    () => `${object}.k = ${sum};`,
    () => `${object}.k = (${object}.k ?? 0) + ${sum};`,
    () => `fill_(${object}, ${sum});`,
    () => `${tally}.add(${sum});`,
    () => `if (${sum} % 2 > 0) ${object}.l = ${sum};`,
  ];
  return (texts[kind] as () => string)();
}

const start =
  "type Parts = { k?: number; l?: number };\n" +
  "class Tally_ { n: number; constructor(n: number) { this.n = n } add(by: number) { this.n += by } }\n" +
  "function grow_(list: number[], by: number) { list.push(by) }\n" +
  "const fill_ = (one: Parts, by: number) => void Object.entries({ k: by }).forEach(([_, v]) => { one.k = (one.k ?? 0) + v });\n" +
  "let x_ = 5; const l_ = [1]; const o_: Parts = { k: 2 }; const t_ = new Tally_(1);\n" +
  "let s_ = 3; function g_() { s_ = (s_ * 7 + 1) % 97; return s_ }";

/** The cells, and what they make at the end as one expression. */
function program(seeds: readonly Seed[], number: number) {
  const names: Names = {
    numbers: ["x_"],
    lists: ["l_"],
    objects: ["o_"],
    tallies: ["t_"],
    generators: ["g_"],
  };
  const cells = [""];
  for (const [at, one] of seeds.entries()) {
    cells[cells.length - 1] += `${statement(names, one, at)}\n`;
    if (one.cut) cells.push("");
  }
  const own = (text: string) => text.replace(/\b([a-zA-Z]+\d*)_/g, `$1_${number}`);
  const { numbers, lists, objects, tallies } = names;
  const values = [...numbers, ...lists, ...objects, ...tallies].map(own);
  return { cells: [start, ...cells].filter((one) => one !== "").map(own), names: values };
}

const textOf = (name: string) =>
  `(typeof ${name} === "undefined" ? null : JSON.stringify(${name}))`;

/** What each name is after the cells ran in this order in a process of their own; null if they cannot. */
function fresh(cells: readonly string[], names: readonly string[]): (string | null)[] | null {
  const ts = loadTypeScript();
  const given = names.map(
    (name) => `(() => { try { return ${textOf(name)} } catch { return null } })()`,
  );
  const whole = `${cells.join("\n")}\n;[${given.join(", ")}]`;
  const { outputText } = ts.transpileModule(whole, {
    compilerOptions: { target: ts.ScriptTarget.ES2022 },
  });
  try {
    return new Script(outputText).runInContext(createContext({})) as (string | null)[];
  } catch {
    return null;
  }
}

async function runLive(cells: readonly string[], order: readonly number[], id: string) {
  for (const at of order) {
    const cellId = `${id} ${at}`;
    const { value } = await session.call("execute", cells[at] as string, { cellId });
    expect(value.ok, value.error?.traceback.join("\n")).toBe(true);
  }
}

async function live(name: string, id: string) {
  const { outputs } = await session.call("execute", `JSON.stringify(${name})`, {
    cellId: `${id} ${name}`,
  });
  const result = outputs.find((one) => one.output_type === "execute_result");
  const isTold = outputs.some((one) => JSON.stringify(one).includes('"notice":"lineage"'));
  return { text: result && "data" in result ? String(result.data["text/plain"]) : null, isTold };
}

async function untold(seeds: readonly Seed[], steps: readonly number[]) {
  ran += 1;
  const { cells, names } = program(seeds, ran);
  const order = [...cells.keys(), ...steps.map((step) => step % cells.length)];
  const last = order.filter((cell, at) => order.lastIndexOf(cell) === at);
  const expected = fresh(
    last.map((at) => cells[at] as string),
    names,
  );
  fc.pre(expected !== null);
  compared += 1;
  if (compared % programsOfSession === 0) {
    session.stop();
    session = startSession();
  }
  await runLive(cells, order, `${ran}`);
  const found: string[] = [];
  for (const [at, name] of names.entries()) {
    const value = expected?.[at] ?? null;
    if (value === null) continue;
    const { text, isTold } = await live(name, `${ran}`);
    if (text === `'${value}'`) continue;
    differing += 1;
    const ranCells = order.map((one) => `[${one}] ${cells[one]}`).join("");
    if (!isTold) found.push(`${name} is ${text}, fresh '${value}'\n${ranCells}`);
  }
  return found;
}

describe("a program run cell by cell in any order, some cells again", () => {
  it("tells of each name that a fresh run in the final order would make otherwise", async () => {
    const seeds = fc.array(seed, { minLength: 3, maxLength: 9 });
    const steps = fc.array(fc.nat(40), { minLength: 1, maxLength: 6 });
    const property = fc.asyncProperty(seeds, steps, async (given, order) => {
      expect(await untold(given, order)).toEqual([]);
    });
    await fc.assert(property, { numRuns: programs, seed: 7, endOnFailure: true });
    expect(differing).toBeGreaterThan(programs);
  });
});
