import { type ChildProcess, spawn } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Readable, Writable } from "node:stream";

interface Answer {
  readonly id?: number;
  readonly result?: Record<string, unknown>;
  readonly error?: { readonly message: string };
}

interface Evaluated {
  readonly result: { readonly value?: unknown };
  readonly exceptionDetails?: {
    readonly text: string;
    readonly exception?: { description: string };
  };
}

const patience_ms = 30_000;

/** A page in headless Chromium, driven over a pipe. Source: Chrome DevTools Protocol 1.3. */
export class BrowserPage {
  readonly #process: ChildProcess;
  readonly #profile: string;
  readonly #waiting = new Map<number, (answer: Answer) => void>();
  #rest = "";
  #asked = 0;
  #session = "";

  private constructor(process: ChildProcess, profile: string) {
    this.#process = process;
    this.#profile = profile;
    const answers = process.stdio[4] as Readable;
    answers.setEncoding("utf8").on("data", (text: string) => this.#take(text));
  }

  static async open(url: string): Promise<BrowserPage> {
    const profile = await mkdtemp(join(tmpdir(), "chromium-"));
    const words = [
      ..."--headless=new --no-sandbox --disable-gpu --no-first-run --disable-sync".split(" "),
      ..."--disable-background-networking --disable-component-update --disable-dev-shm-usage".split(
        " ",
      ),
      ...`--remote-debugging-pipe --window-size=1400,1100 --user-data-dir=${profile}`.split(" "),
      "about:blank",
    ];
    const stdio = ["ignore", "ignore", "ignore", "pipe", "pipe"] as const;
    const page = new BrowserPage(spawn("chromium", words, { stdio: [...stdio] }), profile);
    const { targetInfos } = (await page.#ask("Target.getTargets")) as {
      readonly targetInfos: readonly { readonly targetId: string; readonly type: string }[];
    };
    const targetId = targetInfos.find(({ type }) => type === "page")?.targetId;
    const attached = await page.#ask("Target.attachToTarget", { targetId, flatten: true });
    page.#session = String(attached.sessionId);
    await page.#ask("Page.enable");
    await page.#ask("Emulation.setFocusEmulationEnabled", { enabled: true });
    await page.#ask("Page.navigate", { url });
    return page;
  }

  /** The value of an expression in the page; promises are waited for. */
  async evaluate(expression: string): Promise<unknown> {
    const options = { expression, awaitPromise: true, returnByValue: true };
    const answer = (await this.#ask("Runtime.evaluate", options)) as unknown as Evaluated;
    const { result, exceptionDetails: fault } = answer;
    if (fault !== undefined) throw new Error(fault.exception?.description ?? fault.text);
    return result.value;
  }

  /** Waits for an expression to be true of the page. */
  async until(expression: string, within_ms = patience_ms): Promise<void> {
    const end = performance.now() + within_ms;
    while ((await this.evaluate(expression).catch(() => false)) !== true) {
      if (performance.now() > end) throw new Error(`not so in time: ${expression}`);
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
  }

  /** Clicks where an element stands that the expression gives. */
  async click(element: string): Promise<void> {
    const [x, y] = (await this.evaluate(`(() => {
      const element = ${element};
      element.scrollIntoView({ block: "center" });
      const { left, top, width, height } = element.getBoundingClientRect();
      return [left + width / 2, top + height / 2];
    })()`)) as [number, number];
    const at = { x, y, button: "left", clickCount: 1 };
    await this.#ask("Input.dispatchMouseEvent", { type: "mouseMoved", x, y });
    await this.#ask("Input.dispatchMouseEvent", { type: "mousePressed", ...at });
    await this.#ask("Input.dispatchMouseEvent", { type: "mouseReleased", ...at });
  }

  /** Presses a key such as ArrowRight, of this code. */
  async press(key: string, windowsVirtualKeyCode: number): Promise<void> {
    const what = { key, code: key, windowsVirtualKeyCode };
    await this.#ask("Input.dispatchKeyEvent", { type: "keyDown", ...what });
    await this.#ask("Input.dispatchKeyEvent", { type: "keyUp", ...what });
  }

  /** Writes a picture of the page into `BANQUETTE_SCREENSHOTS`, where that is set. */
  async picture(name: string): Promise<void> {
    const folder = process.env.BANQUETTE_SCREENSHOTS;
    if (folder === undefined) return;
    const { data } = await this.#ask("Page.captureScreenshot", { format: "png" });
    await writeFile(join(folder, `${name}.png`), Buffer.from(String(data), "base64"));
  }

  async close(): Promise<void> {
    const ended = new Promise((resolve) => this.#process.once("close", resolve));
    this.#process.kill("SIGKILL");
    await ended;
    await rm(this.#profile, { recursive: true, force: true, maxRetries: 5 });
  }

  async #ask(method: string, params: object = {}): Promise<Record<string, unknown>> {
    this.#asked += 1;
    const id = this.#asked;
    const answer = new Promise<Answer>((resolve) => this.#waiting.set(id, resolve));
    const session = this.#session === "" ? {} : { sessionId: this.#session };
    (this.#process.stdio[3] as Writable).write(
      `${JSON.stringify({ id, method, params, ...session })}\0`,
    );
    const { result, error } = await answer;
    if (error !== undefined) throw new Error(`${method}: ${error.message}`);
    return result ?? {};
  }

  #take(text: string): void {
    const parts = (this.#rest + text).split("\0");
    this.#rest = parts.pop() ?? "";
    for (const part of parts) {
      const answer = JSON.parse(part) as Answer;
      if (answer.id === undefined) continue;
      this.#waiting.get(answer.id)?.(answer);
      this.#waiting.delete(answer.id);
    }
  }
}
