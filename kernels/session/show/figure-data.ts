import { readFile } from "node:fs/promises";
import { resolve } from "node:path";
import { fileURLToPath } from "node:url";

/** Time that a server has to give a figure's data, ms. */
export const patience_ms = 5000;

/** What a figure was drawn with that could not be had. */
export class DataNotLoaded extends Error {
  override readonly name = "DataNotLoaded";
}

/** Gives the data of a figure: a file from the notebook's folder on, or what a server answers in time. */
export async function loadFigureData(address: string, folder: string): Promise<string> {
  try {
    if (address.startsWith("file:")) return await readFile(fileURLToPath(address), "utf8");
    if (!/^[a-z][a-z+.-]+:/i.test(address)) return await readFile(resolve(folder, address), "utf8");
    const answer = await fetch(address, { signal: AbortSignal.timeout(patience_ms) });
    if (!answer.ok) throw new Error(`the server says ${answer.status} ${answer.statusText}`);
    return await answer.text();
  } catch (error) {
    throw new DataNotLoaded(`its data could not be had from ${address}: ${reasonOf(error)}`);
  }
}

function reasonOf(error: unknown): string {
  const { name, message, code, cause } = error as NodeJS.ErrnoException & {
    readonly cause?: unknown;
  };
  if (name === "TimeoutError") return `no answer within ${patience_ms / 1000} s`;
  if (code === "ENOENT") return "there is no such file";
  return cause instanceof Error
    ? cause.message || String((cause as NodeJS.ErrnoException).code)
    : message;
}
