import { readdirSync, readFileSync } from "node:fs";

/** Processes whose environment carries this, `NAME=value`; on Linux only. */
export function processesWith(variable: string): readonly number[] {
  return readdirSync("/proc")
    .filter((name) => /^\d+$/.test(name))
    .filter((id) => {
      try {
        return readFileSync(`/proc/${id}/environ`, "utf8").split("\0").includes(variable);
      } catch {
        return false;
      }
    })
    .map(Number);
}

/** The most memory that a process had so far, MB; 0 where it has ended. */
export function memoryOf_MB(id: number): number {
  try {
    const status = readFileSync(`/proc/${id}/status`, "utf8");
    return Number(/VmHWM:\s+(\d+) kB/.exec(status)?.[1] ?? 0) / 1000;
  } catch {
    return 0;
  }
}
