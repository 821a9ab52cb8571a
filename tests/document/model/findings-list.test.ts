import { expect, it } from "vitest";
import { findingsSummary } from "../../../lib/chain/front/summary.js";
import { withFindingsListed } from "../../../lib/document/model/findings-list.js";
import { plainText } from "../../../lib/document/model/inline.js";

const summary = (text: string) =>
  ({ kind: "paragraph", role: "summary", content: [text] }) as const;

it("tells the findings of a summary one by one", () => {
  const blocks = [{ class: "A", resistivity_ohm_m: [{ p10: 30, p90: 50 }] }];
  const empty = { changes: [], seepage: [], setAside: [], boreholes: [], blocks };
  const survey = { name: "", embankment: "Bank", length_m: 2400, campaigns: ["2031-10"] };
  const text = findingsSummary({ survey, ...empty } as never);
  const [list] = withFindingsListed([summary(text)]);
  expect(list).toMatchObject({ kind: "list", ordered: false });
  const { items } = list as Extract<typeof list, { kind: "list" }>;
  expect(
    items.flat().map((block) => plainText((block as never as { content: [string] }).content)),
  ).toEqual([
    "Bank, 2.4 km: 1 block of 1 kind of ground.",
    "No stretch stands out for seepage.",
    "No readings were set aside for metal or structures.",
    "No boreholes are proposed.",
  ]);
});

it("leaves a single finding and other words as they are", () => {
  const blocks = [summary("9 blocks of 1,815–1,903 m."), { kind: "rule" } as const];
  expect(withFindingsListed(blocks)).toEqual(blocks);
});
