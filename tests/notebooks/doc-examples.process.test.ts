// Every example of a documentation comment gives the result that stands beside it.
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import * as library from "../../lib/index.js";
import { demoFolder, interpretedDemo } from "../chain/demo.js";
import { repository } from "./banquette.js";
import { docExamples, mismatch, runExample } from "./support/doc-examples.js";

const examples = docExamples();
let demoNames: Promise<Readonly<Record<string, unknown>>> | null = null;
let demo: ReturnType<typeof interpretedDemo> | null = null;

function interpretedOnce() {
  demo ??= interpretedDemo();
  return demo;
}

// The example of `interpret` asks for what the others take as given: it is made once.
const interpret: typeof library.interpret = async (survey, decisions) => {
  const made = await interpretedOnce();
  const isThat = survey.value.name === made.value.survey.value.name && decisions?.length === 0;
  return isThat ? made : library.interpret(survey, decisions);
};

// What examples take as given: the results of the demo, by the names of the notebook's cells.
async function demoContext(): Promise<Readonly<Record<string, unknown>>> {
  const { value } = await interpretedOnce();
  const survey = value.survey.value;
  const [autumn, spring] = value.slices;
  const shortest = library.decide("segmentBlocks.minLength_m", 40, {
    because: "Repairs are rarely shorter.",
    alternatives: [80],
  });
  const holes = library.decide("siteBoreholes.holes", 5, {
    because: "A rig drills them in two days.",
    alternatives: [3],
  });
  return {
    ...value,
    folder: demoFolder,
    survey,
    campaign: survey.campaigns[0],
    masked: value.masked[0],
    slices: autumn,
    autumn,
    spring,
    change: value.changes[0],
    centreline: survey.centreline,
    resistivityLine: survey.resistivityLines[2],
    section: value.sections?.[0],
    work: { ...value, decisions: [shortest, holes] },
  };
}

function demoOnce() {
  demoNames ??= demoContext();
  return demoNames;
}

describe("the examples of documentation comments", () => {
  it("are there", () => {
    expect(examples.length).toBeGreaterThan(40);
  });

  for (const example of examples) {
    it(`${example.file}, ${example.of}: gives the result beside it`, async () => {
      expect(example.syntaxErrors).toEqual([]);
      expect(example.result, "an example has its result in a comment at its end").not.toBeNull();
      const module = await import(join(repository, example.file));
      const own: Readonly<Record<string, unknown>> = { ...library, ...module, interpret };
      const names = example.uses.filter((name) => !(name in globalThis));
      const given = names.some((name) => !(name in own)) ? await demoOnce() : {};
      const reach = { ...given, ...own };
      expect(names.filter((name) => !(name in reach))).toEqual([]);
      const value = await runExample(
        example,
        Object.fromEntries(names.map((name) => [name, reach[name]])),
      );
      expect(mismatch(value, example.result!)).toBeNull();
    });
  }
});

describe("a documented result", () => {
  const cases: readonly (readonly [unknown, string, boolean])[] = [
    [1.23456, "1.2346", true],
    [1.23456, "1.2345", false],
    [-1234.4, "-1234 (a remark)", true],
    [1.05e-7, "1.1e-7", true],
    [1.2e-7, "1.1e-7", false],
    ["a", '"a"', true],
    ["a", '"b"', false],
    [{ a: [1, 2], b: 3 }, "{ a: [1, 2] }", true],
    [{ a: [1, 2] }, "{ a: [1, 2, 3] }", false],
    [Float64Array.of(0.51), "[0.5]", true],
    [true, "true", true],
    [Number.NaN, "1", false],
    [null, "null", true],
    [7, "such as 3", true],
    ["x", "such as 3", false],
  ];
  for (const [value, result, holds] of cases) {
    it(`${result} ${holds ? "agrees" : "disagrees"} with ${JSON.stringify(value)}`, () => {
      expect(mismatch(value, result) === null).toBe(holds);
    });
  }
});
