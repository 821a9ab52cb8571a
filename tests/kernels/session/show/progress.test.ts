import { describe, expect, it } from "vitest";
import { createProgress } from "../../../../kernels/session/show/progress.js";

/** Texts drawn, the first and each update; `tick_ms` passes at each look at the clock. */
function drawn(tick_ms: number) {
  const texts: string[] = [];
  const draw = (value: unknown) => {
    const show = (value as Record<symbol, () => Record<string, string>>)[
      Symbol.for("Jupyter.display")
    ] as () => Record<string, string>;
    texts.push(show()["text/plain"] ?? "");
  };
  const display = (...values: unknown[]) => {
    draw(values[0]);
    return { id: "d", update: (...next: unknown[]) => draw(next[0]) };
  };
  let now = 0;
  const clock = () => {
    now += tick_ms;
    return now;
  };
  return { texts, progress: createProgress(display, clock) };
}

const full = "█".repeat(24);
const empty = "░".repeat(24);

describe("progress", () => {
  it("goes through an iterable with a bar, and its last state stays", () => {
    const { texts, progress } = drawn(200);
    expect([...progress([1, 2, 3], { label: "Blocks" })]).toEqual([1, 2, 3]);
    expect(texts).toEqual([
      `Blocks ${empty} 0 of 3`,
      `Blocks ${"█".repeat(8)}${"░".repeat(16)} 1 of 3`,
      `Blocks ${"█".repeat(16)}${"░".repeat(8)} 2 of 3`,
      `Blocks ${full} 3 of 3`,
    ]);
  });

  it("draws ten times a second at the most", () => {
    const { texts, progress } = drawn(1);
    for (const _ of progress(Array(1000).fill(0)));
    // 1000 ms by the clock, and the first and the last state.
    expect(texts.length).toBeLessThanOrEqual(12);
    expect(texts.at(-1)).toBe(`${full} 1000 of 1000`);
  });

  it("goes through a set, a generator of unknown length, and items to come", async () => {
    const { texts, progress } = drawn(200);
    expect([...progress(new Set("ab"))]).toEqual(["a", "b"]);
    const generator = (function* () {
      yield 1;
      yield 2;
    })();
    expect([...progress(generator)]).toEqual([1, 2]);
    expect(texts.slice(3)).toEqual(["0", "1", "2", `${full} 2 of 2`]);
    const later = (async function* () {
      yield "soon";
    })();
    const seen: string[] = [];
    for await (const item of progress(later, { total: 1 })) seen.push(item);
    expect(seen).toEqual(["soon"]);
    expect(texts.at(-1)).toBe(`${full} 1 of 1`);
  });

  it("keeps where a loop was left", () => {
    const { texts, progress } = drawn(1);
    for (const item of progress([1, 2, 3, 4])) if (item === 3) break;
    expect(texts.at(-1)).toBe(`${"█".repeat(12)}${"░".repeat(12)} 2 of 4`);
  });

  it("is a function for tasks that tell how much is done, and begins a new bar each time", () => {
    const { texts, progress } = drawn(200);
    const told = progress("Depth");
    for (const done of [0, 5, 10, 0, 10]) told(done, 10);
    expect(texts.filter((text) => text === `Depth ${empty} 0 of 10`)).toHaveLength(2);
    expect(texts.filter((text) => text === `Depth ${full} 10 of 10`)).toHaveLength(2);
  });
});
