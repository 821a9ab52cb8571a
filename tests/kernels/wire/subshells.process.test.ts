import { afterAll, beforeAll, expect, it } from "vitest";
import type { Content, Header } from "../../../kernels/wire/messages.js";
import { type Executed, resultOf, textOf, WireClient } from "../support/wire-client.js";

let client: WireClient;
let subshell = "";
beforeAll(async () => {
  client = await WireClient.launch();
  subshell = await created();
  await client.execute("const pause = (ms: number) => new Promise((then) => setTimeout(then, ms))");
}, 60_000);
afterAll(() => client.stop());

async function created(): Promise<string> {
  const { content } = await client.onControl("create_subshell_request");
  expect(content.status).toBe("ok");
  return String(content.subshell_id);
}

function bundleOf({ outputs }: Executed): Content {
  const result = outputs.find(({ header }) => header.msg_type === "execute_result");
  return (result?.content.data ?? {}) as Content;
}

const replied = ({ msg_id }: Header) =>
  client.replies.some(({ parent_header }) => parent_header.msg_id === msg_id);

/** Runs a cell in the subshell. */
async function beside(code: string) {
  return await client.finished(await client.startIn(subshell, code));
}

/** Starts a cell in the shell; resolves when it has printed "begun". */
async function begun(code: string): Promise<Header> {
  const header = await client.start(code);
  await client.until(() => textOf(client.outputsOf(header)).includes("begun"));
  return header;
}

it("are made, listed and deleted on the control channel", async () => {
  const info = await client.request("kernel_info_request", {});
  expect(info.content.supported_features).toContain("kernel subshells");
  const other = await created();
  const listed = async () => (await client.onControl("list_subshell_request")).content.subshell_id;
  expect(await listed()).toEqual([subshell, other]);
  const deletion = { subshell_id: other };
  expect((await client.onControl("delete_subshell_request", deletion)).content.status).toBe("ok");
  expect(await listed()).toEqual([subshell]);
  const again = await client.onControl("delete_subshell_request", deletion);
  expect(again.content).toMatchObject({ status: "error", ename: "UnknownSubshell" });
  const lost = await client.replyTo(await client.startIn(other, "1 + 1"));
  expect(lost.content).toMatchObject({ status: "error", ename: "UnknownSubshell" });
});

it("show a variable while a cell waits, each output under its own request", async () => {
  const waiting = await begun(
    "const levels_m = [1.5]; console.log('begun'); await pause(1500); levels_m.push(2.5); console.log('done')",
  );
  const seen = await beside("console.log('from beside'); levels_m.length");
  expect(replied(waiting)).toBe(false);
  expect(resultOf(seen)).toBe("1");
  expect(textOf(seen.outputs)).toBe("from beside\n");
  expect(seen.reply.parent_header.subshell_id).toBe(subshell);
  const { reply, outputs } = await client.finished(waiting);
  expect(reply.content.status).toBe("ok");
  expect(textOf(outputs)).toBe("begun\ndone\n");
});

it("check, declare and count as the shell does, and both know all names", async () => {
  const waiting = await begun("console.log('begun'); await pause(1200); const own = 1; own + 1");
  expect((await beside("const made: number = 'x'")).reply.content.ename).toBe("TypeCheckError");
  const { reply } = await beside("const made = 3; made");
  const ended = await client.finished(waiting);
  expect(resultOf(ended)).toBe("2");
  const last = await client.execute("made + own");
  expect({ ...last.reply.content, shown: resultOf(last) }).toMatchObject({
    status: "ok",
    shown: "4",
  });
  const counts = [ended, { reply }, last].map((one) => Number(one.reply.content.execution_count));
  const [first = 0] = counts;
  expect(counts).toEqual([first, first + 2, first + 3]);
  const completion = await client.request("complete_request", { code: "mad", cursor_pos: 3 });
  expect(completion.content.matches).toContain("made");
});

it("keep what was declared beside a cell that fails", async () => {
  const waiting = await begun(
    "console.log('begun'); await pause(1000); if (Date.now() > 0) throw new Error('x'); const never = 1",
  );
  await beside("const kept_m = 4.5");
  expect((await client.finished(waiting)).reply.content.status).toBe("error");
  expect(resultOf(await client.execute("kept_m.toFixed(1)"))).toBe("'4.5'");
  const wrong = await client.execute("kept_m.push(1)");
  expect(JSON.stringify(wrong.outputs)).toContain("does not exist on type '4.5'");
});

it("look at what a cell computes without a stop, as far as that changes nothing", async () => {
  await client.execute(
    "const rows: number[] = []; let isOn = true; let turns = 0; const place = { km: 3 };\n" +
      "const shows = (html: string) => ({ [Symbol.for('Jupyter.display')]: () => ({ 'text/html': html }) });\n" +
      "const drawn = shows('<b>bank</b>'); const wrong = { [Symbol.for('Jupyter.display')]: () => { turns = 0; return {} } };",
  );
  const computing = await begun(
    "console.log('begun'); const end = Date.now() + 5000; while (Date.now() < end) { turns += 1; rows[0] = turns; } turns",
  );
  const first = await beside("turns");
  const second = await beside("rows[0]");
  const named = await beside("place");
  const shown = await beside("drawn");
  const unseen = await beside("wrong");
  expect(replied(computing)).toBe(false);
  expect(Number(resultOf(second))).toBeGreaterThan(Number(resultOf(first)));
  expect(resultOf(named)).toBe("{km: 3}");
  expect(bundleOf(shown)).toMatchObject({ "text/html": "<b>bank</b>" });
  expect(Object.keys(bundleOf(unseen))).toEqual(["text/plain"]);
  const changing = await client.startIn(subshell, "rows.push(7)");
  const typed = await client.startIn(subshell, "(turns as number) > 0");
  const declaring = await client.startIn(subshell, "function later() { return 5; }");
  const { reply } = await client.finished(computing);
  expect(reply.content.status).toBe("ok");
  expect(resultOf(await client.finished(changing))).toBe("2");
  await client.finished(declaring);
  expect(resultOf(await client.execute("later()"))).toBe("5");
  const last = await client.finished(typed);
  expect(resultOf(last)).toBe("true");
  const base = Number(reply.content.execution_count);
  const counts = [first, second, named, shown, unseen, last].map((one) =>
    Number(one.reply.content.execution_count),
  );
  expect(counts).toEqual([1, 2, 3, 4, 5, 7].map((after) => base + after));
  const history = await client.request("history_request", { hist_access_type: "tail", n: 12 });
  const inputs = (history.content.history as [number, number, string][]).map(
    ([, , input]) => input,
  );
  expect(inputs).toEqual(expect.arrayContaining(["turns", "rows[0]", "place", "rows.push(7)"]));
});

it("are interrupted together with the shell, and go on with what there was", async () => {
  await client.execute("let depth_m = 2.5");
  const waiting = await begun("console.log('begun'); await pause(60_000)");
  const computing = await client.startIn(subshell, "console.log('on'); while (true) depth_m += 0;");
  await client.until(() => textOf(client.outputsOf(computing)).includes("on"));
  await client.onControl("interrupt_request");
  for (const header of [computing, waiting]) {
    expect((await client.finished(header)).reply.content.ename).toBe("Interrupted");
  }
  expect(resultOf(await beside("depth_m"))).toBe("2.5");
  expect(resultOf(await client.execute("depth_m + 1"))).toBe("3.5");
});

it("cause no false alarm, and tell who changed what", async () => {
  await client.execute("const areas = [1]");
  await client.execute("const total = areas.length");
  const changing = await begun("areas.push(2); console.log('begun'); await pause(1000)");
  const looked = await beside("areas.length");
  const { reply } = await client.finished(changing);
  const { outputs } = await client.execute("total");
  const said = JSON.stringify(outputs);
  expect(said).toContain(`[${reply.content.execution_count}]`);
  expect(said).not.toContain(`[${looked.reply.content.execution_count}]`);
});

it("cannot ask", async () => {
  const { reply } = await beside("await prompt('Depth?')");
  expect(reply.content.ename).toBe("InputNotPossible");
});
