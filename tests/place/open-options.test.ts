import { describe, expect, it } from "vitest";
import type { OpenSurveyOptions } from "../../lib/place/open-options.js";
import { openSurvey } from "../../lib/place/open-survey.js";

describe("the options of opening", () => {
  it("are checked all at once", async () => {
    const options = {
      bridgeUpTo_m: -1,
      timeLag_s: 40,
      pegs: "use",
      lag: 2,
    } as unknown as Partial<OpenSurveyOptions>;
    const error: unknown = await openSurvey("somewhere", options).catch((thrown) => thrown);
    const lines = (error as Error).message.split("\n");
    for (const line of [
      "openSurvey: options.bridgeUpTo_m must be a number at least 0 m, got -1",
      "openSurvey: options.timeLag_s must be a number at least -10 and at most 10 s, or " +
        '"estimate", got 40',
      'openSurvey: options.pegs must be one of "check", "correct", "ignore", got "use"',
    ]) {
      expect(lines).toContain(line);
    }
    expect(lines.join("\n")).toContain("options.lag must be one of ");
  });
});
