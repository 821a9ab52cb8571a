import { describe, expect, it } from "vitest";
import { claimBack, claimFront, claimsOf, closeClaims } from "../../../lib/step/threads/claims.js";
import { sharedOut } from "../../../lib/step/threads/share-out.js";

describe("claims", () => {
  it("give each task once, wherever front and back meet", () => {
    for (let front = 0; front <= 5; front++) {
      const claims = claimsOf(5);
      const taken: number[] = [];
      for (let task = 0; task < front; task++) if (claimFront(claims)) taken.push(task);
      for (let task = claimBack(claims); task !== null; task = claimBack(claims)) taken.push(task);
      expect(taken.sort()).toEqual([0, 1, 2, 3, 4]);
      expect(claimFront(claims)).toBe(false);
    }
  });

  it("give none once they are closed", () => {
    const claims = claimsOf(3);
    closeClaims(claims);
    expect([claimBack(claims), claimFront(claims)]).toEqual([null, false]);
  });
});

describe("tasks that are shared out", () => {
  const module = new URL(import.meta.url);
  const tasks = ["a", "b", "c"];

  it("are answered in their order, and are told of", async () => {
    const done: number[] = [];
    const here = async (task: number) => `${tasks[task]}!`;
    const progress = (count: number) => done.push(count);
    const answers = await sharedOut({ module, shared: null, tasks, here, progress });
    expect(answers).toEqual(["a!", "b!", "c!"]);
    expect(done).toEqual([1, 2, 3]);
  });

  it("are given up at the first that throws", async () => {
    const made: number[] = [];
    const here = async (task: number) => {
      made.push(task);
      if (task === 1) throw new RangeError("the second is at fault");
    };
    const work = { module, shared: null, tasks, here, progress: () => undefined };
    await expect(sharedOut(work)).rejects.toThrow("the second is at fault");
    expect(made).toEqual([0, 1]);
  });
});
