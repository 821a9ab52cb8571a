// findings.json against the published schema, by a validator that is not ours.
import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, it } from "vitest";
import { smallFindings } from "./support/small-findings.js";

const schema = JSON.parse(
  readFileSync(new URL("../../lib/handover/findings.schema.json", import.meta.url), "utf8"),
);
const ajv = new Ajv2020({ strict: true, strictTypes: false, allErrors: true });
const isValid = ajv.compile(schema);

type Plain = Record<string, unknown>;
const plain = () =>
  JSON.parse(JSON.stringify(smallFindings)) as Plain & {
    blocks: Plain[];
    seepage: Plain[];
    changes: Plain[];
    setAside: Plain[];
  };

function faultsOf(change: (findings: ReturnType<typeof plain>) => void): string[] {
  const findings = plain();
  change(findings);
  isValid(findings);
  return (isValid.errors ?? []).map((error) => `${error.instancePath} ${error.message}`);
}

describe("lib/handover/findings.schema.json", () => {
  it("holds the findings, with one line walked and with several", () => {
    expect(faultsOf(() => undefined)).toEqual([]);
    const ofLine = (entries: Plain[]) => entries.map((entry) => ({ line: "crest", ...entry }));
    expect(
      faultsOf((findings) => {
        findings.depth = [{ line: "crest", ...smallFindings.depth }];
        findings.blocks = ofLine(findings.blocks);
      }),
    ).toEqual([]);
  });

  it("asks for every list of the contract", () => {
    const names = Object.keys(smallFindings).filter((name) => name !== "decisions");
    expect(names).toHaveLength(13);
    for (const name of names) {
      expect(faultsOf((findings) => delete findings[name])).toEqual([
        ` must have required property '${name}'`,
      ]);
    }
  });

  const wrong: readonly (readonly [string, Parameters<typeof faultsOf>[0], string])[] = [
    [
      "a number as text",
      (f) => Object.assign(f.blocks[0]!, { from_m: "0" }),
      "/blocks/0/from_m must be number",
    ],
    [
      "an interval of one",
      (f) => Object.assign(f.blocks[0]!, { toInterval_m: [1] }),
      "/blocks/0/toInterval_m must NOT have fewer than 2 items",
    ],
    [
      "a negative resistivity",
      (f) => Object.assign((f.blocks[0]!.resistivity_ohm_m as Plain[])[0]!, { median: -1 }),
      "/blocks/0/resistivity_ohm_m/0/median must be > 0",
    ],
    [
      "an unknown word",
      (f) => Object.assign(f.changes[0]!, { direction: "went" }),
      "/changes/0/direction must be equal to one of the allowed values",
    ],
    [
      "a probability above 1",
      (f) => Object.assign(f.seepage[0]!, { probability: 30 }),
      "must be <= 1",
    ],
    ["a missing cause", (f) => delete f.setAside[0]!.cause, "must have required property 'cause'"],
    [
      "NaN, which JSON writes as null",
      (f) => Object.assign(f.changes[0]!, { q: null }),
      "/changes/0/q must be number",
    ],
  ];
  for (const [name, change, fault] of wrong) {
    it(`refuses ${name}`, () => expect(faultsOf(change).join("\n")).toContain(fault));
  }

  it("takes null where a number cannot be told, and further fields beside the described", () => {
    const told = (f: Plain) => {
      f.drift = [
        {
          campaign: "c",
          channel: "q",
          model: "none",
          perHour: 0,
          residual: null,
          checks: 0,
          sd: 1,
        },
      ];
    };
    expect(faultsOf(told)).toEqual([]);
  });
});
