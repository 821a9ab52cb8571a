import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../lib/numerics/random.js";
import { walkedSurvey } from "./walked-survey.js";

// The generator of the sketches is seeded; this keeps its own promise.
describe("a sketched walk", () => {
  it("is the same twice", () => {
    expect(walkedSurvey({ seed: 1 })).toEqual(walkedSurvey({ seed: 1 }));
    expect(seededRandom(1).normal()).toBe(seededRandom(1).normal());
  });
});
