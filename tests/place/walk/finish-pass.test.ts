import { describe, expect, it } from "vitest";
import { openSurvey } from "../../../lib/place/open-survey.js";
import { inFolder } from "../../survey/support/survey-folder.js";
import { walkedSurvey } from "../../survey/support/walked-survey.js";

describe("finishPass", () => {
  it("counts a whole row that is repeated once", async () => {
    const survey = walkedSurvey({ seed: 2 });
    const lines = survey.files["walk-1.csv"]!;
    lines.splice(50, 0, lines[50]!, lines[50]!);
    const { accounting, cautions } = await inFolder(survey, (folder) => openSurvey(folder));
    expect(accounting!.setAside).toEqual([
      {
        cause: "averaged or repeated: another reading of the same spot stands for it",
        readings: 2,
      },
    ]);
    expect(cautions.map(({ text }) => text)).toContain(
      "2031-10, walk-1.csv: 2 rows repeat the row before in everything and are set aside.",
    );
  });
});
