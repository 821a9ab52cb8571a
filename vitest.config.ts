import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";
import LongestFirst from "./tests/support/longest-first.js";

const common = {
  setupFiles: ["tests/support/quiet-console.ts"],
  hookTimeout: 600_000,
  // Many short-lived arrays: with the usual 16 MB a quarter of the time goes to collecting them.
  execArgv: ["--max-semi-space-size=64"],
};
const calibration = "tests/**/*.calibration.test.ts";
const processes = "tests/**/*.process.test.ts";

/** Three tiers, one after the other: a first answer in a minute, then seeds, then whole processes. */
export default defineConfig({
  test: {
    // As many as there are cores: what runs beside the tests is their own processes.
    maxWorkers: availableParallelism(),
    sequence: { sequencer: LongestFirst },
    projects: [
      {
        test: {
          ...common,
          name: "unit",
          isolate: false,
          include: ["tests/**/*.test.ts"],
          exclude: [calibration, processes],
          testTimeout: 60_000,
          sequence: { groupOrder: 0 },
        },
      },
      {
        test: {
          ...common,
          name: "calibration",
          isolate: false,
          include: [calibration],
          testTimeout: 600_000,
          sequence: { groupOrder: 1 },
        },
      },
      {
        test: {
          ...common,
          name: "process",
          include: [processes],
          globalSetup: ["tests/support/shared-folder.ts"],
          testTimeout: 400_000,
          sequence: { groupOrder: 2 },
        },
      },
    ],
  },
});
