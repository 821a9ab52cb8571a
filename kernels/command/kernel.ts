import { copyFile, rm, writeFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { InputFault, UsageFault } from "./failure.js";
import { kernelsFolder, thisMachine } from "./jupyter-folder.js";
import {
  defaultDisplayName,
  defaultKernelName,
  foundKernel,
  kernelEntry,
  kernelSpecText,
  logoFiles,
  logoFolder,
} from "./kernel-spec.js";
import { snapshotName, writeStartSnapshot } from "./start-snapshot.js";
import { fillWhole } from "./unfinished-folder.js";

export interface KernelPlace {
  /** The user's own Jupyter folder; what is done where neither this nor `prefix` is given. */
  readonly user?: boolean;
  /** The root of an environment: the kernel stands in `share/jupyter/kernels` below it. */
  readonly prefix?: string;
  /** The name by which Jupyter knows the kernel; "banquette" by default. */
  readonly name?: string;
}

export interface KernelInstallOptions extends KernelPlace {
  /** The name that front ends show. */
  readonly displayName?: string;
  /** Takes the place of a kernel of another make under the same name. */
  readonly replace?: boolean;
}

/** `banquette kernel install`: registers the kernel for Jupyter; done twice it is done once. */
export async function installKernelCommand(options: KernelInstallOptions): Promise<void> {
  const { name, folder } = placeOf(options);
  const found = await foundKernel(folder);
  if (found === "other" && options.replace !== true) {
    throw new InputFault([
      `${folder}: holds a kernel of another make; give another --name, or --replace it`,
    ]);
  }
  let isQuick = false;
  await orInputFault(folder, async () => {
    if (found === "other") await rm(folder, { recursive: true });
    await fillWhole(folder, async (unfinished) => {
      isQuick = await hasSnapshot(unfinished);
      const snapshot = isQuick ? join(folder, snapshotName) : null;
      await writeFiles(unfinished, kernelSpecText(options.displayName, snapshot));
    });
  });
  process.stdout.write(installedText({ name, folder, again: found === "ours", isQuick }, options));
}

/** `banquette kernel uninstall`: takes the registration away; says so where there is none. */
export async function uninstallKernelCommand(options: KernelPlace): Promise<void> {
  const { name, folder } = placeOf(options);
  const found = await foundKernel(folder);
  if (found === "other") {
    throw new InputFault([`${folder}: holds a kernel of another make, which is left as it is`]);
  }
  if (found === "ours") await orInputFault(folder, () => rm(folder, { recursive: true }));
  const text = found === "ours" ? `Kernel "${name}" removed from` : `No kernel "${name}" in`;
  process.stdout.write(`${text} ${folder}\n`);
}

// Jupyter allows letters of both cases, but finds names by their lower case.
const kernelName = /^[a-z0-9][a-z0-9._-]*$/;

function placeOf({ user, prefix, name = defaultKernelName }: KernelPlace) {
  if (user === true && prefix !== undefined) {
    throw new UsageFault("--user and --prefix exclude each other");
  }
  if (prefix === "") throw new UsageFault("--prefix must be a folder, got an empty text");
  if (!kernelName.test(name)) {
    throw new UsageFault(
      `--name must be lower-case letters, digits, dots, dashes or underscores, got "${name}"`,
    );
  }
  return { name, folder: resolve(kernelsFolder(prefix, thisMachine()), name) };
}

// The kernel is started by a shell then, so that it starts without a snapshot that does not fit.
async function hasSnapshot(folder: string): Promise<boolean> {
  return process.platform !== "win32" && (await writeStartSnapshot(join(folder, snapshotName)));
}

async function writeFiles(folder: string, spec: string): Promise<void> {
  await writeFile(join(folder, "kernel.json"), spec);
  for (const file of logoFiles) await copyFile(join(logoFolder, file), join(folder, file));
}

async function orInputFault(folder: string, act: () => Promise<void>): Promise<void> {
  try {
    await act();
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === undefined) throw error;
    throw new InputFault([`${folder}: cannot be written (${code})`]);
  }
}

interface Installed {
  readonly name: string;
  readonly folder: string;
  readonly again: boolean;
  /** Starts from a snapshot. */
  readonly isQuick: boolean;
}

function installedText(
  { name, folder, again, isQuick }: Installed,
  options: KernelInstallOptions,
): string {
  const shown = options.displayName ?? defaultDisplayName;
  const lines = [
    `Kernel "${name}", shown as "${shown}", ${again ? "installed again" : "installed"} in ${folder}`,
    `It starts ${process.execPath} with ${kernelEntry}; install it again when either has moved.`,
  ];
  if (isQuick) {
    lines.push(
      "It starts with the compiler ready; install it again when Node has another version.",
    );
  }
  if (options.prefix !== undefined) {
    lines.push("Jupyter finds it there when it runs from that environment itself.");
  }
  return `${lines.join("\n")}\n`;
}
