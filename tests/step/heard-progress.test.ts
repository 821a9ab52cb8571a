import { afterEach, expect, it, vi } from "vitest";
import { defineStep, runLongStep } from "../../lib/step/define-step.js";
import { heard } from "../../lib/step/heard-progress.js";
import { progressOption } from "../../lib/step/options/kinds.js";

const listener = Symbol.for("banquette.progress");
const listen = () => {
  const told = vi.fn();
  Reflect.set(globalThis, listener, told);
  return told;
};
afterEach(() => Reflect.deleteProperty(globalThis, listener));

const options = { progress: progressOption("Told the strides.") };
const walk = defineStep({
  name: "walk",
  options,
  run: (strides: number, { progress }) => {
    for (let done = 1; done <= strides; done++) progress?.(done, strides);
    return strides;
  },
  report: (value: number) => ({ value, summary: "Walked." }),
});

it("tells whoever listens in the process, by the step's name, and shows no option of it", async () => {
  const told = listen();
  const { used } = await runLongStep(walk, 2, {});
  expect(told.mock.calls).toEqual([
    ["walk", 1, 2],
    ["walk", 2, 2],
  ]);
  expect(used).toEqual({});
});

it("tells the caller's own function instead, where there is one", async () => {
  const [told, own] = [listen(), vi.fn()];
  await runLongStep(walk, 1, { progress: own });
  expect(own.mock.calls).toEqual([[1, 1]]);
  expect(told).not.toHaveBeenCalled();
});

it("hears the outermost call alone, and the next one again, after a failure too", async () => {
  const told = listen();
  await heard("tour", async (tell) => {
    await runLongStep(walk, 3, {});
    tell?.(1, 1);
  });
  await expect(heard("lost", () => Promise.reject(new Error("lost")))).rejects.toThrow("lost");
  await runLongStep(walk, 1, {});
  expect(told.mock.calls).toEqual([
    ["tour", 1, 1],
    ["walk", 1, 1],
  ]);
});

it("runs without a word where nobody listens", async () => {
  expect((await runLongStep(walk, 2, {})).value).toBe(2);
});
