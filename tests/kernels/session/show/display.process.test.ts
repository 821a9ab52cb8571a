import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type RemoteSession, startSession } from "../../support/session.js";

let session: RemoteSession;
beforeAll(() => {
  session = startSession();
});
afterAll(() => session.stop());

describe("display", () => {
  it("gives a handle that updates what it showed, and shows nothing itself", async () => {
    const { outputs } = await session.call(
      "execute",
      "const shown = display(1, 'b'); shown.update(2); shown",
    );
    expect(outputs).toMatchObject([
      { output_type: "display_data", data: { "text/plain": "1" } },
      { output_type: "display_data", data: { "text/plain": "'b'" } },
      { output_type: "update_display_data", data: { "text/plain": "2" } },
    ]);
    const ids = outputs.map((output) => "transient" in output && output.transient?.display_id);
    expect(ids[0]).toBe(ids[2]);
    expect(ids[0]).not.toBe(ids[1]);
    const later = await session.call("execute", "shown.update(Promise.resolve('later'));");
    expect(later.outputs).toMatchObject([
      { output_type: "update_display_data", data: { "text/plain": "'later'" } },
    ]);
  });

  it("is cleared by clearOutput", async () => {
    const { outputs } = await session.call(
      "execute",
      "display(1); clearOutput(); clearOutput(true); display(2);",
    );
    expect(outputs).toMatchObject([
      { data: { "text/plain": "1" } },
      { output_type: "clear_output", wait: false },
      { output_type: "clear_output", wait: true },
      { data: { "text/plain": "2" } },
    ]);
  });

  it("carries bars of progress, typed for each kind of task", async () => {
    const outputs = await session.run(
      "let sum = 0; for (const x of progress([1, 2, 3], { label: 'Sum <' })) sum += x;\n" +
        "for await (const x of progress((async function* () { yield 4 })())) sum += x;\n" +
        "const options: { progress: (done: number, total: number) => void } = { progress: progress('Steps') };\n" +
        "options.progress(1, 1); sum",
    );
    expect(outputs).toMatchObject([
      {
        data: {
          "text/plain": expect.stringMatching(/^Sum < █{24} 3 of 3$/),
          "text/html": expect.stringContaining("Sum &#60;"),
        },
      },
      { data: { "text/plain": expect.stringMatching(/1 of 1$/) } },
      { data: { "text/plain": expect.stringMatching(/^Steps █{24} 1 of 1$/) } },
      { output_type: "execute_result", data: { "text/plain": "10" } },
    ]);
  });
});

const relaxed: Readonly<Record<string, string>> = {
  "// unchecked": "// unchecked\nconst a: number = 'text'; a",
  "// @ts-nocheck": "\n// A remark\n// @ts-nocheck\nconst b: number = 'text'; b",
  "option lines before it": "#| label: x\n// unchecked\nconst c: number = 'text'; c",
  "// @ts-ignore": "// @ts-ignore\nconst d: number = 'text'; d",
  "// @ts-expect-error": "// @ts-expect-error\nconst e: number = 'text'; e",
};

describe("the type check is relaxed by", () => {
  for (const [how, source] of Object.entries(relaxed)) {
    it(how, async () => {
      expect(await session.run(source)).toMatchObject([{ data: { "text/plain": "'text'" } }]);
    });
  }

  it("nothing further down, and never for the syntax", async () => {
    const lower = "let f = 1;\n// unchecked\nconst g: number = 'text';";
    for (const source of [lower, "// unchecked\nconst = 4", "// @ts-expect-error\nlet h = 1"]) {
      expect(await session.run(source)).toMatchObject([{ ename: "TypeCheckError" }]);
    }
  });
});
