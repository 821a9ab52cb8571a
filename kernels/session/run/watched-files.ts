import { statSync } from "node:fs";
import type TypeScript from "typescript";
import { loadTypeScript } from "../types/typescript.js";

interface WatchedFile {
  readonly path: string;
  readonly callback: TypeScript.FileWatcherCallback;
  stamp: string;
}

const packages = /[\\/]node_modules[\\/]|\.d\.[cm]?ts$/;

/** The user's own files that cells import: looked at when asked, without a watcher that runs on. */
export class Watched {
  readonly #files = new Set<WatchedFile>();

  add(path: string, callback: TypeScript.FileWatcherCallback): TypeScript.FileWatcher {
    if (packages.test(path)) return { close: () => undefined };
    const file = { path, callback, stamp: stampOf(path) };
    this.#files.add(file);
    return { close: () => this.#files.delete(file) };
  }

  /** Tells the type services of each file that has changed since. */
  look(): void {
    const { FileWatcherEventKind: kinds } = loadTypeScript();
    for (const file of [...this.#files]) {
      const now = stampOf(file.path);
      if (now === file.stamp) continue;
      const kind = now === "" ? kinds.Deleted : file.stamp === "" ? kinds.Created : kinds.Changed;
      file.stamp = now;
      file.callback(file.path, kind);
    }
  }
}

function stampOf(path: string): string {
  const found = statSync(path, { throwIfNoEntry: false });
  return found === undefined ? "" : `${found.mtimeMs} ${found.size}`;
}
