import { readdir, readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { FaultLog, type SurveyFault } from "../../survey/check/faults.js";
import type { Reach, ReachRow } from "./reach.js";
import { reachesOfTable } from "./reach-table.js";

/** The file that lists the reaches; without it every survey folder below is one. */
export const REACHES_FILE = "reaches.csv";

const PACKAGE_FILE = "datapackage.json";
/** Survey folders are looked for this many folders down. */
const DEEPEST = 4;

export interface ReachesRead {
  readonly reaches: readonly Reach[];
  /** True where the inventory's folder holds a table of reaches. */
  readonly fromTable: boolean;
  readonly faults: readonly SurveyFault[];
}

/**
 * The reaches of an inventory folder: the rows of its `reaches.csv` (columns `reach` and `folder`,
 * and any others), or without one every survey folder up to four folders down, named by its path
 * with "-" for "/". Every fault is collected: a name that is missing, unsuitable or given twice, a
 * folder that is missing, given twice or holds no `datapackage.json`. What stands in a survey
 * folder is not looked at here.
 *
 * @param folder - the inventory's folder.
 * @returns the reaches by name, and every fault.
 */
export async function readReaches(folder: string): Promise<ReachesRead> {
  const log = new FaultLog();
  const text = await readFile(join(folder, REACHES_FILE), "utf8").catch(absent);
  const rows = text === null ? await found(folder, log) : reachesOfTable(text, REACHES_FILE, log);
  if (text !== null) for (const row of rows) await checkFolder(folder, row, log);
  if (rows.length === 0 && log.faults.length === 0) {
    const rule = `a folder with ${REACHES_FILE} or with survey folders (${PACKAGE_FILE}) in it`;
    log.add({ code: "no-reaches", file: ".", rule, value: "neither" });
  }
  const reaches = rows
    .map(({ row: _, ...reach }) => reach)
    .sort((one, other) => (one.reach < other.reach ? -1 : 1));
  return { reaches, fromTable: text !== null, faults: log.faults };
}

function absent(error: NodeJS.ErrnoException): null {
  if (error.code === "ENOENT") return null;
  throw error;
}

async function checkFolder(folder: string, one: ReachRow, log: FaultLog): Promise<void> {
  const has = await stat(join(folder, one.folder, PACKAGE_FILE)).catch(() => null);
  if (has !== null) return;
  const rule = `a survey folder (with ${PACKAGE_FILE}), relative to the inventory's`;
  const value = JSON.stringify(one.folder);
  log.add({ code: "no-survey", file: REACHES_FILE, row: one.row, field: "folder", rule, value });
}

async function found(folder: string, log: FaultLog): Promise<readonly ReachRow[]> {
  const folders = await surveyFolders(folder, "", 0);
  const rows = folders.map((path) => {
    const reach = path.replace(/[^A-Za-z0-9._-]+/g, "-").replace(/^[^A-Za-z0-9]+/, "");
    return { reach, folder: path, details: {}, row: null };
  });
  for (const { reach, folder: path } of rows) {
    const same = rows.filter((other) => other.reach.toLowerCase() === reach.toLowerCase());
    if (reach !== "" && reach.length <= 80 && same.length === 1) continue;
    const rule = `a folder whose name makes a reach's name of its own; name it in ${REACHES_FILE}`;
    log.add({ code: "reach-name", file: path, rule, value: JSON.stringify(reach) });
  }
  return rows;
}

async function surveyFolders(root: string, path: string, depth: number): Promise<string[]> {
  const entries = await readdir(join(root, path), { withFileTypes: true });
  const names = entries
    .filter((entry) => entry.isDirectory() && !entry.name.startsWith(".") && !isOutput(entry.name))
    .map(({ name }) => name)
    .sort();
  const here = depth > 0 && entries.some(({ name }) => name === PACKAGE_FILE);
  if (here) return [path];
  if (depth === DEEPEST) return [];
  const below: string[] = [];
  for (const name of names) {
    below.push(...(await surveyFolders(root, path === "" ? name : `${path}/${name}`, depth + 1)));
  }
  return below;
}

/** What earlier runs and installations leave. */
const isOutput = (name: string) => name === "node_modules" || name.endsWith("-out");
