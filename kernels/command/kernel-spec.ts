import { lstat, readFile } from "node:fs/promises";
import { join } from "node:path";
import { packageFolder, packageVersion } from "./package.js";
import { startFromSnapshot } from "./start-snapshot.js";

/** The name under which Jupyter knows the kernel where no other is given. */
export const defaultKernelName = "banquette";
export const defaultDisplayName = "TypeScript (Banquette)";

/** The program that Jupyter starts: Node and the kernel's own entry, both by absolute path. */
export const kernelEntry = join(packageFolder, "dist", "kernels", "wire", "main.js");

/** The kernel's pictures in this package, by the names that front ends look for. */
export const logoFolder = join(packageFolder, "notebooks", "logo");
export const logoFiles = ["logo-32x32.png", "logo-64x64.png", "logo-svg.svg"] as const;

/**
 * The text of `kernel.json`, with the absolute path of a start-up snapshot where there is one.
 * Interrupts come as messages, so that they work on every platform.
 * Source: Jupyter client documentation, "Making kernels for Jupyter", kernel specs.
 */
export function kernelSpecText(
  displayName = defaultDisplayName,
  snapshot: string | null = null,
): string {
  const plain = [process.execPath, kernelEntry, "{connection_file}"];
  const spec = {
    argv: snapshot === null ? plain : startFromSnapshot(kernelEntry, snapshot),
    display_name: displayName,
    language: "typescript",
    interrupt_mode: "message",
    metadata: { debugger: true, banquette: { version: packageVersion() } },
  };
  return `${JSON.stringify(spec, null, 1)}\n`;
}

/** What stands in a kernel's folder: nothing, a kernel of this package, or one of another make. */
export async function foundKernel(folder: string): Promise<"none" | "ours" | "other"> {
  let text: string;
  try {
    text = await readFile(join(folder, "kernel.json"), "utf8");
  } catch {
    return (await lstat(folder).catch(() => null)) === null ? "none" : "other";
  }
  try {
    const { metadata } = JSON.parse(text) as { metadata?: { banquette?: unknown } };
    return typeof metadata?.banquette === "object" ? "ours" : "other";
  } catch {
    return "other";
  }
}
