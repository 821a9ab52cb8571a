import { PassThrough } from "node:stream";
import { describe, expect, it } from "vitest";
import { terminalAsker } from "../../../../kernels/command/import/ask.js";
import { settledByAsking } from "../../../../kernels/command/import/settled-import.js";
import { rawFile, table } from "../../../survey/import/support/imported.js";

/** Somebody who types one line after each prompt. */
function typing(lines: readonly string[]) {
  const [input, output] = [new PassThrough(), new PassThrough()];
  const left = [...lines];
  let shown = "";
  output.on("data", (chunk: Buffer) => {
    shown += chunk.toString();
    if (!chunk.toString().endsWith("> ")) return;
    const next = left.shift();
    if (next === undefined) input.end();
    else input.write(`${next}\n`);
  });
  return { asker: terminalAsker(input, output), shown: () => shown };
}

const walk = rawFile(
  "walk.csv",
  table("Date,Time,Lon,Lat,Q [ppm]", 30, (i) => {
    const second = String(i).padStart(2, "0");
    return `03/04/2031,08:00:${second},${(5 + i / 1e4).toFixed(4)},52.1,${100 + i}`;
  }),
);
const task = {
  files: [walk],
  answers: new Map([["separation_m", "1.8"]]),
  target: { name: "bank", earlier: new Map<string, string>(), isThere: false },
};

describe("questions on a terminal", () => {
  it("come one by one, again where an answer breaks its rule; Enter takes a guess or leaves open", async () => {
    const first = ["day first", "day/month/year", "Europe/Amsterdam", "9000", "HCP", "0.9"];
    const open = new Array<string>(6).fill("");
    const { asker, shown } = typing([...first, "from the walk", "", "", "left", ...open]);
    const { settled, questions, faults } = await settledByAsking(task, asker);
    expect(faults).toEqual([]);
    expect(shown()).toContain("It must be one of day/month/year, month/day/year.");
    const told = new Map(settled.map(({ key, value }) => [key, value]));
    expect(told.get("walk.csv: date order")).toBe("day/month/year");
    expect(told.get("timezone")).toBe("Europe/Amsterdam");
    expect(told.get("embankment")).toBe("bank");
    expect(told.get("waterside")).toBe("left");
    expect(questions.map(({ key }) => key)).toEqual([
      "waterway",
      "crestWidth_m",
      "crestElevation_m",
      "foundationElevation_m",
      "watersideSlope",
      "landsideSlope",
      "designWaterLevel_m",
    ]);
  });

  it("end the command where nobody answers any more", async () => {
    const { asker } = typing([]);
    await expect(settledByAsking(task, asker)).rejects.toThrow("the questions ended");
  });
});
