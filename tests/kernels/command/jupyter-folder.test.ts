import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { jupyterDataFolder, kernelsFolder } from "../../../kernels/command/jupyter-folder.js";

const linux = { platform: "linux", env: {}, home: "/home/wend" } as const;

// Jupyter's documentation, "Common Directories and File Locations".
describe("the user's Jupyter data folder", () => {
  const share = join("/home/wend", ".local", "share");
  const places = [
    ["Linux", linux, join(share, "jupyter")],
    ["XDG_DATA_HOME", { ...linux, env: { XDG_DATA_HOME: "/data" } }, join("/data", "jupyter")],
    ["an empty XDG_DATA_HOME", { ...linux, env: { XDG_DATA_HOME: "" } }, join(share, "jupyter")],
    ["macOS", { ...linux, platform: "darwin" }, join("/home/wend", "Library", "Jupyter")],
    ["Windows", { ...linux, platform: "win32", env: { APPDATA: "/r" } }, join("/r", "jupyter")],
    [
      "JUPYTER_DATA_DIR before all else",
      { ...linux, platform: "darwin", env: { JUPYTER_DATA_DIR: "/own", XDG_DATA_HOME: "/data" } },
      "/own",
    ],
  ] as const;
  for (const [what, machine, folder] of places) {
    it(`follows ${what}`, () => {
      expect(jupyterDataFolder(machine)).toBe(folder);
      expect(kernelsFolder(undefined, machine)).toBe(join(folder, "kernels"));
    });
  }

  it("gives way to the prefix of an environment", () => {
    const machine = { ...linux, env: { JUPYTER_DATA_DIR: "/own" } };
    expect(kernelsFolder("/env", machine)).toBe(join("/env", "share", "jupyter", "kernels"));
  });
});
