// Writes one seeded survey: FOLDER SEED LENGTH in m.
import { makeSurvey } from "../../tests/abroad/survey.js";
import { writeSurvey } from "../../tests/abroad/written/folder.js";

const [folder = "", seed = "1", length = "80"] = process.argv.slice(2);
writeSurvey(
  makeSurvey({
    ...{ seed: Number(seed), ground: "blocks", instrument: "three separations HCP" },
    ...{ errors: "noise", length_m: Number(length), campaigns: 1, slopes: { bank: "broad" } },
  }),
  folder,
);
