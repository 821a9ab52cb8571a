#!/usr/bin/env node
import { failureOf } from "./failure.js";
import { runCommand } from "./program.js";

// What no part of the command waits for: it must not end in a bare stack with the exit code of a
// refused input.
process.on("uncaughtException", (error) => {
  const { lines, exitCode } = failureOf(error, process.argv.includes("--trace"));
  if (!process.exitCode) process.stderr.write(`${lines.join("\n")}\n`);
  process.exit(process.exitCode || exitCode);
});

process.exitCode = await runCommand(process.argv.slice(2));
