import { expect, it, vi } from "vitest";
import { callBars } from "../../../../kernels/session/show/call-bars.js";
import type { Progress } from "../../../../kernels/session/show/progress.js";

function bars() {
  const [drawn, clock] = [vi.fn(), { now: 0 }];
  const progress = ((what: string) => (done: number, total: number) =>
    drawn(what, done, total)) as unknown as Progress;
  return { tell: callBars(progress, () => clock.now), drawn, clock };
}

it("draws a bar of a call once it takes over a second, to its end", () => {
  const { tell, drawn, clock } = bars();
  tell("walk", 0, 4);
  clock.now = 999;
  tell("walk", 1, 4);
  expect(drawn).not.toHaveBeenCalled();
  clock.now = 1000;
  tell("walk", 2, 4);
  tell("walk", 4, 4);
  expect(drawn.mock.calls).toEqual([
    ["walk", 2, 4],
    ["walk", 4, 4],
  ]);
});

it("draws none of a short call, and counts each call's time by itself", () => {
  const { tell, drawn, clock } = bars();
  tell("walk", 0, 2);
  clock.now = 900;
  tell("walk", 2, 2);
  clock.now = 1500;
  tell("walk", 0, 2);
  clock.now = 2000;
  tell("ride", 1, 2);
  clock.now = 5000;
  tell("ride", 2, 2);
  expect(drawn).not.toHaveBeenCalled();
});
