import { homedir } from "node:os";
import { join } from "node:path";

/** The parts of a machine that say where Jupyter keeps a user's data. */
export interface Machine {
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly home: string;
}

export function thisMachine(): Machine {
  return { platform: process.platform, env: process.env, home: homedir() };
}

/**
 * The user's Jupyter data folder: `JUPYTER_DATA_DIR` where set; else `~/Library/Jupyter` on macOS,
 * `%APPDATA%/jupyter` on Windows, and `jupyter` in `XDG_DATA_HOME` (`~/.local/share`) elsewhere.
 * Source: Jupyter's documentation, "Common Directories and File Locations", data files.
 */
export function jupyterDataFolder({ platform, env, home }: Machine): string {
  if (env.JUPYTER_DATA_DIR) return env.JUPYTER_DATA_DIR;
  if (platform === "darwin") return join(home, "Library", "Jupyter");
  if (platform === "win32") {
    return join(env.APPDATA || join(home, "AppData", "Roaming"), "jupyter");
  }
  return join(env.XDG_DATA_HOME || join(home, ".local", "share"), "jupyter");
}

/** The folder that holds the kernels: of the user, or of an environment below `prefix`. */
export function kernelsFolder(prefix: string | undefined, machine: Machine): string {
  const data = prefix === undefined ? jupyterDataFolder(machine) : join(prefix, "share", "jupyter");
  return join(data, "kernels");
}
