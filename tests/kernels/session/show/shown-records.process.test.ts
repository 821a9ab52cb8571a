// A decision that a cell shows is kept, and a step's result that used another value says so.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type RemoteSession, startSession } from "../../support/session.js";

let session: RemoteSession;
beforeAll(() => {
  session = startSession();
});
afterAll(() => session.stop());

const survey = `import { decide, openSurvey, placeReadings } from "banquette";
const survey = await openSurvey("data-demo/sedgeholm");`;
const because = '{ because: "a test says so" }';
const notices = (outputs: readonly unknown[]) =>
  outputs.flatMap((output) => {
    const { data } = output as { readonly data?: Record<string, string> };
    return data?.["text/plain"]?.startsWith("On the record: ") ? [data["text/plain"]] : [];
  });

describe("the record of a notebook", () => {
  it("is held against what a step used, in the step's own cell", async () => {
    await session.run(survey, `decide("placeReadings.jitter", "keep", ${because})`);
    const outputs = await session.run("placeReadings(survey)");
    expect(notices(outputs)).toEqual([
      "On the record: placeReadings.jitter is decided as keep, and placeReadings used smooth: the appendix is not written while the two differ.",
    ]);
    expect(outputs.at(-1)).toMatchObject({
      data: { "text/html": expect.stringContaining("<strong>On the record.</strong>") },
    });
  });

  it("says nothing where the two agree, and takes the later decision of a name", async () => {
    expect(notices(await session.run('placeReadings(survey, { jitter: "keep" })'))).toEqual([]);
    await session.run(`display(decide("placeReadings.jitter", "smooth", ${because}))`);
    expect(notices(await session.run("placeReadings(survey)"))).toEqual([]);
  });

  it("knows only what was shown", async () => {
    await session.run(`const quiet = decide("placeReadings.jitter", "keep", ${because});`);
    expect(notices(await session.run("placeReadings(survey)"))).toEqual([]);
  });
});
