import { describe, expect, it } from "vitest";
// The built command: it looks for the package from where it stands.
import { versions } from "../../../dist/kernels/command/package.js";

describe("the versions of a run", () => {
  it("name the packages that cells asked for, apart from the program's own", () => {
    const own = versions().packages;
    const { packages } = versions({ "ml-matrix": "1.0.0", "wend-tides": "1.2.0" });
    expect(packages).toEqual({
      ...own,
      "ml-matrix (of the notebook)": "1.0.0",
      "wend-tides": "1.2.0",
    });
    expect(own["ml-matrix"]).toMatch(/^6\./);
  });
});
