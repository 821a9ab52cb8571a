import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Content, type Message, newHeader } from "../../../kernels/wire/messages.js";
import { type Executed, resultOf, textOf, WireClient } from "../support/wire-client.js";

const view = "application/vnd.jupyter.widget-view+json";
const asked = { allow_stdin: true };

let client: WireClient;
beforeAll(async () => {
  client = await WireClient.launch();
});
afterAll(() => client.stop());

interface Opened {
  readonly id: string;
  readonly state: Content;
}

function opened(outputs: readonly Message[]): readonly Opened[] {
  return outputs
    .filter(({ header }) => header.msg_type === "comm_open")
    .map(({ content }) => ({
      id: String(content.comm_id),
      state: (content.data as { readonly state: Content }).state,
    }));
}

const shownIn = ({ outputs }: Executed) =>
  outputs
    .filter(({ header }) => header.msg_type === "display_data")
    .map(({ content }) => content.data as Content);

const latestText = () =>
  client.published
    .filter(({ header }) => header.msg_type === "update_display_data")
    .map(({ content }) => (content.data as Content)["text/plain"])
    .at(-1);

/** The front end changes a model; resolves when the kernel has taken it. */
async function change(id: string, state: Content): Promise<void> {
  const data = { method: "update", state, buffer_paths: [] };
  const header = await client.send("shell", "comm_msg", { comm_id: id, data });
  await client.until(() =>
    client.of(header).some(({ content }) => content.execution_state === "idle"),
  );
}

describe("a slider", () => {
  let id = "";

  it("is a model of the public protocol, with a text beside it", async () => {
    const ran = await client.execute(
      'const slope = slider({ label: "Slope", min: 0, max: 10, step: 0.5, value: 2 })\nslope',
      asked,
    );
    const models = opened(ran.outputs);
    const names = models.map(({ state }) => state._model_name);
    expect(names).toEqual(["LayoutModel", "SliderStyleModel", "FloatSliderModel"]);
    const [layout, style, own] = models as [Opened, Opened, Opened];
    id = own.id;
    expect(own.state).toMatchObject({
      _model_module: "@jupyter-widgets/controls",
      _model_module_version: "2.0.0",
      layout: `IPY_MODEL_${layout.id}`,
      style: `IPY_MODEL_${style.id}`,
      ...{ description: "Slope", min: 0, max: 10, step: 0.5, value: 2 },
    });
    const { content, metadata } = ran.outputs.find(
      ({ header }) => header.msg_type === "comm_open",
    ) as Message;
    expect(content.target_name).toBe("jupyter.widget");
    expect(metadata).toEqual({ version: "2.1.0" });
    expect(shownIn(ran)).toEqual([
      {
        [view]: { version_major: 2, version_minor: 0, model_id: id },
        "text/plain": "Slope: 2 (from 0 to 10)",
        "text/html": "<p>Slope: <strong>2</strong> (from 0 to 10)</p>",
      },
    ]);
    expect(ran.outputs.some(({ header }) => header.msg_type === "execute_result")).toBe(false);
  });

  it("has the value that it was moved to, and says what was declared", async () => {
    await change(id, { value: 4.5 });
    expect(resultOf(await client.execute("slope.value"))).toBe("4.5");
    const words = "chosen by hand, declared is 2, which a run from top to bottom takes";
    expect(latestText()).toBe(`Slope: 4.5 (from 0 to 10; ${words})`);
    await change(id, { value: 2 });
    expect(latestText()).toBe("Slope: 2 (from 0 to 10)");
  });

  it("takes no value outside its range, and none that is no number", async () => {
    for (const value of [11, -1, null, "3"]) await change(id, { value });
    expect(resultOf(await client.execute("slope.value"))).toBe("2");
  });

  it("is moved while a cell waits for it, and the cell stays busy", async () => {
    const header = await client.start("const next = await slope.next()\nnext * 2", asked);
    await client.until(() => client.of(header).length > 0);
    await change(id, { value: 3 });
    const ran = await client.finished(header);
    expect(resultOf(ran)).toBe("6");
    expect(shownIn(await client.execute("next"))).toEqual([]);
    const states = client.of(header).flatMap(({ content }) => content.execution_state ?? []);
    expect(states.at(-1)).toBe("idle");
  });

  it("calls what listens, in the name of the cell that listens", async () => {
    const header = await client.start(
      "const stop = slope.onChange((value: number) => {\n" +
        '  console.log("now", value);\n  if (value > 5) throw new Error("steep");\n});',
      asked,
    );
    await client.finished(header);
    await change(id, { value: 5 });
    await change(id, { value: 6 });
    await client.until(() => textOf(client.outputsOf(header)).includes("steep"));
    expect(textOf(client.outputsOf(header))).toMatch(/^now 5\nnow 6\nNot caught: Error: steep/);
    await client.execute("stop();");
    const before = client.outputsOf(header).length;
    await change(id, { value: 7 });
    await client.execute("0");
    expect(client.outputsOf(header).length).toBe(before);
  });

  it("makes what was made from it out of date when it is moved, and nothing else", async () => {
    const noticeOf = ({ outputs }: Executed) => shownIn({ outputs } as Executed)[0]?.["text/plain"];
    const made = await client.execute("const double = slope.value * 2;", asked);
    const of = made.reply.content.execution_count;
    expect(noticeOf(await client.execute("double"))).toBeUndefined();
    await change(id, { value: 1 });
    expect(noticeOf(await client.execute("double"))).toMatch(
      new RegExp(
        `^\`double\` was made by cell \\[${of}\\] from \`slope\` as .*; ` +
          `\`slope\` has been changed by hand: run \\[${of}\\] again\\.$`,
      ),
    );
    expect(noticeOf(await client.execute("slope.value"))).toBeUndefined();
    expect(noticeOf(await client.execute("next"))).toMatch(/changed by hand/);
    await client.execute("const half = slope.value / 2;");
    expect(noticeOf(await client.execute("half"))).toBeUndefined();
  });

  it("gives its whole state to a front end that is loaded again", async () => {
    const header = await client.send("shell", "comm_msg", {
      comm_id: id,
      data: { method: "request_state" },
    });
    const ofComm = () =>
      client.of(header).find(({ header: { msg_type } }) => msg_type === "comm_msg");
    await client.until(() => ofComm() !== undefined);
    const answered = ofComm()?.content.data as Content;
    expect(answered).toMatchObject({ method: "update", state: { value: 1, min: 0, max: 10 } });
    const comm_id = newHeader("comm").msg_id;
    await client.send("shell", "comm_open", {
      comm_id,
      target_name: "jupyter.widget.control",
      data: {},
    });
    const all = await client.send("shell", "comm_msg", {
      comm_id,
      data: { method: "request_states" },
    });
    const answer = () => client.of(all).find(({ header: one }) => one.msg_type === "comm_msg");
    await client.until(() => answer() !== undefined);
    const { method, states } = answer()?.content.data as { method: string; states: Content };
    expect(method).toBe("update_states");
    expect(states[id]).toMatchObject({ model_name: "FloatSliderModel", state: { value: 1 } });
  });

  it("ends the waiting for it when it is interrupted, or shown no more", async () => {
    const waiting = await client.start("await slope.next()", asked);
    await client.until(() => client.of(waiting).length > 0);
    await client.onControl("interrupt_request");
    expect((await client.finished(waiting)).reply.content.ename).toBe("Interrupted");
    const again = await client.start("await slope.next()", asked);
    await client.until(() => client.of(again).length > 0);
    await client.send("shell", "comm_close", { comm_id: id, data: {} });
    expect(resultOf(await client.finished(again))).toBe("1");
  });
});

describe("where nobody is there to choose", () => {
  it("a widget is a text and keeps the declared value, and no cell waits", async () => {
    const ran = await client.execute(
      'const height = slider({ label: "Height", min: 0, max: 2, step: 0.1, value: 0.9 })\n' +
        'const kind = select(["HCP", "VCP"], { label: "Coils <b>" });\n' +
        "[await height.next(), kind.value]",
    );
    expect(resultOf(ran)).toBe("[ 0.9, 'HCP' ]");
    expect(opened(ran.outputs)).toEqual([]);
    expect(shownIn(ran)).toEqual([
      {
        "text/plain": "Height: 0.9 (from 0 to 2)",
        "text/html": "<p>Height: <strong>0.9</strong> (from 0 to 2)</p>",
      },
      {
        "text/plain": "Coils <b>: HCP (of HCP, VCP)",
        "text/html": "<p>Coils &lt;b&gt;: <strong>HCP</strong> (of HCP, VCP)</p>",
      },
    ]);
  });

  it.each([
    ["slider({ min: 2, max: 1, value: 1 })", "slider: min must be a number below max, got 2 and 1"],
    ["slider({ min: 0, max: 1, value: NaN })", "slider: value must be from 0 to 1, got NaN"],
    ["slider({ min: 0, max: 1, step: 0, value: 1 })", "slider: step must be over 0, got 0"],
    ["select([])", "select: options must be a list with something to choose from"],
    ["select([1, 2], { value: 3 as 2 })", "select: value must be one of 1, 2, got 3"],
  ])("%s is refused", async (code, words) => {
    expect((await client.execute(code)).reply.content.evalue).toBe(words);
  });
});

describe("a choice from a list", () => {
  it("is one of the options, in value and in type", async () => {
    const ran = await client.execute(
      'const coils = select(["HCP", "VCP"], { value: "VCP" });',
      asked,
    );
    const own = opened(ran.outputs).at(-1) as Opened;
    expect(own.state).toMatchObject({
      _model_name: "DropdownModel",
      _options_labels: ["HCP", "VCP"],
      index: 1,
    });
    await change(own.id, { index: 0 });
    expect(resultOf(await client.execute("coils.value"))).toBe("'HCP'");
    await change(own.id, { index: 9 });
    expect(resultOf(await client.execute("coils.value"))).toBe("'HCP'");
    const { reply } = await client.execute('const wrong: "PRP" = coils.value;');
    expect(reply.content.evalue).toMatch(/"HCP" \| "VCP"' is not assignable to type '"PRP"'/);
  });

  it("is shown again in another cell, where it has what was chosen", async () => {
    const ran = await client.execute("coils", asked);
    expect(shownIn(ran)[0]).toMatchObject({ "text/plain": expect.stringMatching(/^HCP \(of HCP/) });
  });
});

describe("a table that sorts", () => {
  const rows = 'const rows = [{ name: "b", x: 10 }, { name: "a", x: NaN }, { name: "c", x: 9 }];\n';

  it("is sorted by any column, either way, with what is missing last", async () => {
    const ran = await client.execute(`${rows}table(rows, { sortable: true })`, asked);
    const models = opened(ran.outputs);
    const of = (name: string) => models.find(({ state }) => state._model_name === name) as Opened;
    expect(of("DropdownModel").state._options_labels).toEqual(["as given", "name", "x"]);
    const result = ran.outputs.find(({ header }) => header.msg_type === "execute_result");
    const data = result?.content.data as Content;
    expect(data[view]).toMatchObject({ model_id: of("VBoxModel").id });
    const order = () => {
      const last = client.published.findLast(
        ({ header, content }) =>
          header.msg_type === "comm_msg" && content.comm_id === of("HTMLModel").id,
      );
      const { state } = last?.content.data as { readonly state: { readonly value: string } };
      return [...state.value.matchAll(/<td>([abc])<\/td>/g)].map(([, name]) => name).join("");
    };
    await change(of("DropdownModel").id, { index: 2 });
    expect(order()).toBe("cba");
    await change(of("ToggleButtonModel").id, { value: true });
    expect(order()).toBe("bca");
    await change(of("DropdownModel").id, { index: 1 });
    expect(order()).toBe("cba");
    await change(of("DropdownModel").id, { index: 0 });
    expect(order()).toBe("bac");
    expect(data["text/html"]).toContain("<td>b</td>");
  });

  it("is the table as it was given where nobody is there", async () => {
    const ran = await client.execute("table(rows, { sortable: true })");
    const result = ran.outputs.find(({ header }) => header.msg_type === "execute_result");
    expect(Object.keys(result?.content.data as Content).sort()).toEqual([
      "text/html",
      "text/plain",
    ]);
    expect(opened(ran.outputs)).toEqual([]);
  });
});
