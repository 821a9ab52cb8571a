import { readdirSync, readFileSync } from "node:fs";

/** The environment variable by which the processes that a run's cells start are known. */
const markName = "BANQUETTE_RUN";

/** The processes of one run: the one in which its cells run, and all that they started. */
export interface RunProcesses {
  /** Of the process in which the cells run, which leads a group of its own. */
  readonly pid: number;
  readonly mark: string;
}

/** The environment that marks a process and those that it starts. */
export function markedEnvironment(mark: string): NodeJS.ProcessEnv {
  return { [markName]: mark };
}

/** Whether processes can be put into groups here. */
export const hasGroups = process.platform !== "win32";

/** How often processes are looked for again where each look finds some. */
const looks = 20;

/**
 * Ends at once whatever is left of a run: its group, and, where the system tells of which
 * environment a process is, those that left the group, started meanwhile or not.
 */
export function endRun({ pid, mark }: RunProcesses): void {
  for (let look = 0; look < looks; look++) {
    const others = markedProcesses(mark).filter((left) => left !== pid);
    if (others.length === 0) break;
    others.forEach(kill);
  }
  kill(hasGroups ? -pid : pid);
}

function markedProcesses(mark: string): readonly number[] {
  const line = `${markName}=${mark}`;
  return processIds().filter((id) => {
    try {
      return readFileSync(`/proc/${id}/environ`, "latin1").split("\0").includes(line);
    } catch {
      return false;
    }
  });
}

function processIds(): readonly number[] {
  try {
    return readdirSync("/proc")
      .filter((name) => /^\d+$/.test(name))
      .map(Number);
  } catch {
    return [];
  }
}

function kill(pid: number): void {
  try {
    process.kill(pid, "SIGKILL");
  } catch {
    // It has ended by itself.
  }
}
