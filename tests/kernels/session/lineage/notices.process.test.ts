import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type RemoteSession, startSession } from "../../support/session.js";

let session: RemoteSession;
beforeAll(() => {
  session = startSession();
});
afterAll(() => session.stop());

describe("the notice of a cell", () => {
  it("comes before all else that it shows", async () => {
    const outputs = await session.run(
      "const slices = [1, 2];",
      "const blocks = slices.length;",
      "const slices = [1];",
      'console.log("shown"); blocks',
    );
    const text =
      "`blocks` was made by cell [2] from `slices` as of [1]; `slices` has been remade by [3]: run [2] again.";
    expect(outputs).toMatchObject([
      {
        output_type: "display_data",
        data: { "text/plain": text, "text/html": expect.stringContaining("<code>blocks</code>") },
        metadata: { banquette: { notice: "lineage" } },
      },
      { output_type: "stream", text: "shown\n" },
      { output_type: "execute_result", data: { "text/plain": "2" } },
    ]);
  });

  it("can be switched off at the top of the cell", async () => {
    expect(await session.run("// no-notices\nblocks")).toHaveLength(1);
  });

  it("is gone once the cell has run again", async () => {
    expect(await session.run("const blocks = slices.length;", "blocks")).toHaveLength(1);
  });

  it("counts what ran before a throw, and no more", async () => {
    await session.run(
      "let first = [1], second = [1];",
      "const a = first; const b = second;",
      'first = [2];\nthrow new Error("stop");\nsecond = [2];',
    );
    expect(await session.run("a;")).toHaveLength(1);
    expect(await session.run("b;")).toEqual([]);
  });

  it("counts a cell that fails the type check as not run", async () => {
    await session.run("let wide = [1];", "const narrow = wide;", "wide = [2]; let x: number = ''");
    expect(await session.run("narrow;")).toEqual([]);
  });

  it("knows the cells by the front end's ids", async () => {
    await session.call("execute", "let owned = [1];", { cellId: "one" });
    await session.call("execute", "let renamed = [1];", { cellId: "one" });
    const { outputs } = await session.call("execute", "owned;", { cellId: "two" });
    expect(outputs).toMatchObject([
      { data: { "text/plain": expect.stringContaining("no longer makes it") } },
    ]);
    await session.call("cellsDeleted", ["one"]);
    const { value } = await session.call("lineage");
    const renamed = value.names.find(({ name }) => name === "renamed");
    expect(renamed).toMatchObject({ cell: "one", removedBy: expect.any(Number) });
  });

  it("counts what an interrupted cell did before", async () => {
    await session.run("let base = [1];", "const top = base;");
    const running = session.call("execute", "base = [2];\nawait new Promise(() => {})");
    await new Promise((resolve) => setTimeout(resolve, 300));
    await session.call("interrupt");
    await running;
    expect(await session.run("top;")).toHaveLength(1);
  });
});
