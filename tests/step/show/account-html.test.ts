import { describe, expect, it } from "vitest";
import { accountHtml, accountText, countsText } from "../../../lib/step/show/account-html.js";
import { shortTable } from "../../../lib/step/show/html.js";
import type { StepAccount } from "../../../lib/step/step-account.js";

const none: StepAccount<null> = {
  ...{ step: "walk", summary: "Walked <far>.", value: null, used: {}, basis: [], cautions: [] },
  ...{ accounting: null, figures: [], tables: [] },
};
const setAside = [{ cause: "no value", readings: 1000 }];
const accounting = { readings: 3001, kept: 2000, corrected: 1, setAside };
const table = (rows: number) => ({
  ...{ id: "t", caption: "Steps", columns: [{ field: "a", label: "A" }] },
  rows: Array.from({ length: rows }, (_, a) => ({ a })),
});

describe("accountHtml", () => {
  it("shows the summary alone where there is no more to say", () => {
    const html = accountHtml(none).replace(/<style>[\s\S]*<\/style>/, "");
    expect(html).toBe('<div class="bq">\n<p class="bq-summary">Walked &lt;far&gt;.</p>\n</div>');
  });

  it("says a caution once, however often it is given", () => {
    const caution = { step: "walk", text: "Mud." };
    const html = accountHtml({ ...none, cautions: [caution, caution] });
    expect(html.match(/<strong>Caution\.<\/strong> Mud\./g)).toHaveLength(1);
  });

  it("folds a table that is longer than a short one, its rows counted in the heading", () => {
    const short = accountHtml({ ...none, tables: [table(shortTable)] });
    expect(short).toContain("<caption>Steps</caption>");
    const long = accountHtml({ ...none, tables: [table(shortTable + 1)] });
    expect(long).toContain(`<summary>Steps (${shortTable + 1} rows)</summary>`);
    expect(long).not.toContain("<caption>");
  });

  it("tells how it was done: readings, options and basis in one fold", () => {
    const basis = [{ statement: "Paces are even.", source: "common practice" }];
    const html = accountHtml({ ...none, accounting, used: { pace_m: 0.7 }, basis });
    const how = /<details class="bq-how">[\s\S]*<\/details>/.exec(html)?.[0] ?? "";
    expect(how).toContain("<code>walk</code>");
    for (const text of ["Set aside: no value", "pace_m", "0.7", "(common practice)"]) {
      expect(how).toContain(text);
    }
  });
});

describe("accountText and countsText", () => {
  it("add up what became of the readings", () => {
    const counts = "3,001 readings: 2,000 kept, 1 corrected, 1,000 set aside.";
    expect(countsText(accounting)).toBe(counts);
    const cautions = [{ step: "walk", text: "Mud." }];
    expect(accountText({ ...none, accounting, cautions })).toBe(
      `Walked <far>.\n${counts}\nCaution: Mud.`,
    );
  });
});
