import type TypeScript from "typescript";
import type { Pending } from "../show/output-queue.js";
import { loadTypeScript } from "../types/typescript.js";
import { askedVersion, installedVersion, isProvided } from "./installed-package.js";
import { type NpmFailure, npmInstall } from "./npm.js";
import { PackageFault } from "./package-fault.js";
import { ToldPackage } from "./told-package.js";
import { type WantedPackage, wantedPackages } from "./wanted-packages.js";

export interface InstallerOptions {
  /** The notebook's folder. */
  readonly folder: string;
  /** The options by which imports of cells are resolved to types. */
  readonly options: TypeScript.CompilerOptions;
  /** Takes what is told about it. */
  readonly add: (outputs: Pending) => void;
}

interface InstallTask {
  readonly name: string;
  readonly spec: string;
  readonly signal: AbortSignal | null;
  readonly told: ToldPackage;
}

/** Has the packages that cells ask for installed into the notebook's folder, one at a time. */
export class PackageInstaller {
  readonly #options: InstallerOptions;
  #last: Promise<unknown> = Promise.resolve();

  constructor(options: InstallerOptions) {
    this.#options = options;
  }

  /**
   * Resolves when the packages that the cell asks for are there, in the version asked for. Rejects with
   * PackageFault where one cannot be had, and when the signal is aborted.
   */
  async provide(source: string, signal: AbortSignal | null): Promise<void> {
    for (const wanted of wantedPackages(source)) {
      // An interrupted npm may still be taking back what it began.
      await this.#last.catch(() => undefined);
      signal?.throwIfAborted();
      const provided = this.#provideOne(wanted, signal);
      this.#last = provided;
      await provided;
    }
  }

  async #provideOne(wanted: WantedPackage, signal: AbortSignal | null): Promise<void> {
    const { folder, add } = this.#options;
    const { name } = wanted;
    const asked = askedVersion(folder, wanted);
    const before = installedVersion(folder, name);
    const task = {
      name,
      spec: asked === null ? name : `${name}@${asked}`,
      signal,
      told: new ToldPackage(add, asked === null ? name : `${name} ${asked}`),
    };
    if (!isProvided(folder, wanted)) {
      await this.#install(task);
      if (this.#isUntyped(wanted)) await this.#installTypes(task);
    }
    const version = installedVersion(folder, name);
    if (version === null) throw new PackageFault(`${name}: npm installed it in another place`);
    const replaced = before !== null && before !== version ? before : null;
    task.told.done({ name, version, replaced });
  }

  async #install(task: InstallTask): Promise<void> {
    const failure = await this.#npm(task, task.spec);
    if (failure === null) return;
    task.told.failed();
    throw new PackageFault(`${task.spec}: ${whyOf(failure)}; nothing of the cell ran`);
  }

  // Many packages have their types in another one; where there is none, its exports are `any`.
  async #installTypes(task: InstallTask): Promise<void> {
    await this.#npm(task, `@types/${task.name.replace(/^@/, "").replace("/", "__")}`);
    task.signal?.throwIfAborted();
  }

  #npm({ signal, told }: InstallTask, spec: string): Promise<NpmFailure> {
    const { folder } = this.#options;
    const onAnswer = () => told.answered();
    return told.during(signal, () => npmInstall({ folder, spec, signal, onAnswer }));
  }

  #isUntyped({ specifier }: WantedPackage): boolean {
    const ts = loadTypeScript();
    const { folder, options } = this.#options;
    const found = ts.resolveModuleName(specifier, `${folder}/cell.ts`, options, ts.sys);
    return !/^\.(d\.)?[cm]?ts/.test(found.resolvedModule?.extension ?? ".js");
  }
}

const unreachable = new Set([
  ...["ECONNREFUSED", "ECONNRESET", "ENOTFOUND", "EAI_AGAIN", "ENETUNREACH", "EHOSTUNREACH"],
  ...["ETIMEDOUT", "ERR_SOCKET_TIMEOUT", "EIDLETIMEOUT", "ECONNECTIONTIMEOUT", "FETCH_ERROR"],
]);
const unwritable = new Set(["EACCES", "EPERM", "EROFS", "ENOSPC", "EDQUOT"]);

function whyOf({ code, summary }: { readonly code: string; readonly summary: string }): string {
  if (unreachable.has(code)) {
    return `the registry cannot be reached (${code}), run the cell again with a network`;
  }
  if (code === "E404") return "the registry has no package of this name";
  if (code === "ETARGET") return "the registry has no such version of it";
  if (unwritable.has(code)) return `the notebook's folder cannot be written (${code})`;
  const words = [code === "" ? "" : `(${code})`, summary.split("\n")[0] ?? ""];
  return `npm could not install it ${words.join(" ").trim()}`.trim();
}
