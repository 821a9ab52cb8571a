import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import type { FaultLog } from "./faults.js";

/** A file of the survey folder as it was read. */
export interface SurveyFile {
  readonly path: string;
  readonly bytes: Uint8Array;
  readonly sha256: string;
}

/** Reads a file; null with a fault where it is missing or is none. */
export async function readSurveyFile(
  folder: string,
  path: string,
  log: FaultLog,
): Promise<SurveyFile | null> {
  try {
    const bytes = await readFile(join(folder, path));
    return { path, bytes, sha256: createHash("sha256").update(bytes).digest("hex") };
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? "unreadable";
    const missing = code === "ENOENT" || code === "ENOTDIR";
    const value = missing ? "nothing" : `a read error, ${code}`;
    const rule = "a file in the survey folder";
    log.add({ code: missing ? "missing-file" : "unreadable-file", file: path, rule, value });
    return null;
  }
}

/** The file's text without a byte-order mark; null with a fault where it is empty or not decodable. */
export function textOf(file: SurveyFile, encoding: string, log: FaultLog): string | null {
  let text: string;
  try {
    text = new TextDecoder(encoding, { fatal: true }).decode(file.bytes);
  } catch {
    const rule = `text in the encoding ${encoding}`;
    log.add({ code: "encoding", file: file.path, rule, value: "other bytes" });
    return null;
  }
  if (text.trim() !== "") return text;
  log.add({ code: "empty-file", file: file.path, rule: "filled", value: "an empty file" });
  return null;
}
