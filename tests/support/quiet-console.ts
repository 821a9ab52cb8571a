import { afterEach, beforeEach, expect, vi } from "vitest";

// Any console call that a test did not ask for fails that test.
const names = ["log", "info", "warn", "error", "debug"] as const;
let calls: string[] = [];

beforeEach(() => {
  calls = [];
  for (const name of names) {
    vi.spyOn(console, name).mockImplementation((...parts: unknown[]) => {
      calls.push(`${name}: ${parts.map(String).join(" ")}`);
    });
  }
});

afterEach(() => {
  vi.restoreAllMocks();
  expect(calls).toEqual([]);
});
