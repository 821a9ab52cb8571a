import { describe, expect, it } from "vitest";
import { OutputQueue } from "../../../../kernels/session/show/output-queue.js";
import type { CellOutput } from "../../../../kernels/session/show/outputs.js";

function stream(text: string): CellOutput {
  return { output_type: "stream", name: "stdout", text };
}

function collecting() {
  const seen: string[] = [];
  const queue = new OutputQueue((output) => {
    if (output.output_type === "stream") seen.push(output.text);
  });
  return { seen, queue };
}

describe("the queue of outputs", () => {
  it("hands on at once what has nothing before it", () => {
    const { seen, queue } = collecting();
    queue.add([stream("a")]);
    expect(seen).toEqual(["a"]);
  });

  it("keeps the order in which outputs were asked for", async () => {
    const { seen, queue } = collecting();
    let release: (outputs: CellOutput[]) => void = () => undefined;
    queue.add(
      new Promise<CellOutput[]>((resolve) => {
        release = resolve;
      }),
    );
    queue.add([stream("b")]);
    queue.add(Promise.resolve([stream("c")]));
    await Promise.resolve();
    expect(seen).toEqual([]);
    release([stream("a1"), stream("a2")]);
    await queue.settled();
    expect(seen).toEqual(["a1", "a2", "b", "c"]);
  });

  it("throws the first error when settled, once, and goes on with the others", async () => {
    const { seen, queue } = collecting();
    queue.add(Promise.reject(new Error("first")));
    queue.add(Promise.reject(new Error("second")));
    queue.add([stream("after")]);
    await expect(queue.settled()).rejects.toThrow("first");
    expect(seen).toEqual(["after"]);
    await expect(queue.settled()).resolves.toBeUndefined();
  });
});
