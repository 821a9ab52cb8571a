import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { MimeBundle } from "../../../../kernels/session/show/outputs.js";
import type { Content } from "../../../../kernels/wire/messages.js";
import { type Cells, startCells } from "../../support/cells.js";
import { WireClient } from "../../support/wire-client.js";

let cells: Cells;
let client: WireClient;
let server: Server;
let address: string;
beforeAll(async () => {
  server = createServer((request, answer) => {
    if (request.url === "/levels.json") answer.end('[{ "x": 1 }, { "x": 2 }]');
    if (request.url === "/gone.json") answer.writeHead(404).end();
    // Nothing else is ever answered.
  }).listen(0, "127.0.0.1");
  await new Promise((resolve) => server.on("listening", resolve));
  address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  cells = startCells();
  client = await WireClient.launch();
});
afterAll(async () => {
  cells.stop();
  server.closeAllConnections();
  server.close();
  await client.stop();
});

function figure(url: string): string {
  return JSON.stringify({
    $schema: "https://vega.github.io/schema/vega-lite/v5.json",
    title: "Levels at the gauge",
    data: { url },
    mark: "point",
    encoding: { x: { field: "x", type: "quantitative" } },
  });
}

const refused: readonly (readonly [string, () => string, string])[] = [
  ["a server that says no", () => `${address}/gone.json`, "the server says 404 Not Found"],
  ["a server that never answers", () => `${address}/never.json`, "no answer within 5 s"],
  ["no server", () => "http://127.0.0.1:9/levels.json", "127.0.0.1:9"],
  ["no file", () => "levels.csv", "there is no such file"],
];

async function shownByRunner(code: string): Promise<MimeBundle[]> {
  const { ok, outputs } = await cells.run(code);
  expect(ok).toBe(true);
  return outputs.flatMap((one) => ("data" in one ? [one.data] : []));
}

async function shownByKernel(code: string): Promise<MimeBundle[]> {
  const { reply, outputs } = await client.execute(code);
  expect(reply.content).toMatchObject({ status: "ok" });
  return outputs.map(({ content }) => content.data as Content);
}

describe.each([
  ["runner", shownByRunner],
  ["kernel", shownByKernel],
])("a figure with its data elsewhere, in the %s", (_, shown) => {
  it("is drawn with what a server gives", async () => {
    const [bundle] = await shown(`(${figure(`${address}/levels.json`)})`);
    expect(bundle?.["image/svg+xml"]).toContain("<svg");
  });

  it.each(refused)("says that it is not drawn: %s", async (_, url, why) => {
    const bundles = await shown(`(${figure(url())})`);
    expect(bundles).toHaveLength(2);
    expect(Object.keys(bundles[0] ?? {})).toEqual([
      "application/vnd.vegalite.v5+json",
      "text/plain",
    ]);
    const text = bundles[1]?.["text/plain"];
    expect(text).toContain('The figure "Levels at the gauge" is not drawn here');
    expect(text).toContain(why);
    expect((await shown("1 + 1"))[0]).toEqual({ "text/plain": "2" });
  });
});
