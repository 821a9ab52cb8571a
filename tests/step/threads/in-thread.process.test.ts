// The built library: sources that a test runs as they are make every call in one thread.
import { spawn } from "node:child_process";
import { readdirSync } from "node:fs";
import { afterEach, describe, expect, it } from "vitest";
import type * as Library from "../../../lib/index.js";
import { electrodesAt, measuredAs, wennerSpreads } from "../../support/electrode-lines.js";

const built = new URL("../../../dist/lib/index.js", import.meta.url);
const threadsAsked = "BANQUETTE_THREADS";
const load = async () => (await import(built.href)) as typeof Library;

/** A line over two layers, by its apparent resistivities alone. */
function lineOf(name: string, seed: number) {
  const electrodes = electrodesAt(14);
  const spreads = wennerSpreads(14, [1, 2, 3, 4]);
  const apparent_ohm_m = spreads.map((_, i) => 40 + (i % 14) + 10 * Math.floor(i / 14));
  return { ...measuredAs({ electrodes, spreads, apparent_ohm_m, noise: 0.01, seed }), line: name };
}

const lines = [lineOf("A", 1), lineOf("B", 2), lineOf("C", 3)];

const threadsOf = (pid: number) => readdirSync(`/proc/${pid}/task`).length;
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

afterEach(() => {
  delete process.env[threadsAsked];
  Reflect.deleteProperty(globalThis, Symbol.for("banquette.interruption"));
});

describe("calls in threads", () => {
  it("give the same whatever the number of threads, and tell how far they are", async () => {
    const { invertSection } = await load();
    const bytes: string[] = [];
    for (const threads of ["1", "2", "3"]) {
      process.env[threadsAsked] = threads;
      const seen: number[] = [];
      const progress = (done: number, total: number) => seen.push(done / total);
      const sections = await Promise.all(
        lines.map((line) => invertSection(line, { draws: 50, progress })),
      );
      bytes.push(JSON.stringify(sections.map(({ value, summary }) => [value, summary])));
      expect(seen.filter((share) => share === 1)).toHaveLength(lines.length);
    }
    expect(new Set(bytes).size).toBe(1);
  });

  it("refuse what they would refuse here, with every fault", async () => {
    const { invertSection, StepError } = await load();
    process.env[threadsAsked] = "2";
    const few = { ...lines[0]!, readings: lines[0]!.readings.slice(0, 3) };
    await expect(invertSection(few)).rejects.toBeInstanceOf(StepError);
  });

  it("end with an interrupt, and other calls can be made after it", async () => {
    const { invertSection } = await load();
    process.env[threadsAsked] = "2";
    const controller = new AbortController();
    Reflect.set(globalThis, Symbol.for("banquette.interruption"), controller.signal);
    const long = lines.map((line) => invertSection(line, { draws: 2000 }));
    const ended = Promise.allSettled(long);
    await pause(300);
    controller.abort();
    for (const one of await ended) {
      expect(one).toMatchObject({ status: "rejected", reason: { message: /interrupted/ } });
    }
    Reflect.set(globalThis, Symbol.for("banquette.interruption"), new AbortController().signal);
    const after = await invertSection(lines[0]!, { draws: 50 });
    expect(after.value.line).toBe("A");
  });

  it.runIf(process.platform === "linux")("leave no thread and hold up no end", async () => {
    const program = `
      const { invertSection } = await import(${JSON.stringify(built.href)});
      const lines = ${JSON.stringify(lines)};
      await Promise.all(lines.map((line) => invertSection(line, { draws: 50 })));
      process.stdout.write("done");
      await new Promise((go) => setTimeout(go, 1500));
      process.stdout.write("rested");
      await new Promise((go) => setTimeout(go, 60000));
    `;
    const env = { ...process.env, [threadsAsked]: "2" };
    const child = spawn(process.execPath, ["--input-type=module", "-e", program], { env });
    const pid = child.pid ?? 0;
    let text = "";
    let busy = 0;
    const atRest = new Promise<number>((resolve) => {
      child.stdout.on("data", (chunk: Buffer) => {
        text += chunk.toString();
        busy = Math.max(busy, threadsOf(pid));
        if (text.endsWith("rested")) resolve(threadsOf(pid));
      });
    });
    expect(await atRest).toBe(busy - 2);
    child.kill("SIGKILL");
  });
});
