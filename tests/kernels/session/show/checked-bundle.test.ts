import { describe, expect, it } from "vitest";
import { bundlesOf } from "../../../../kernels/session/show/bundles.js";
import { checkedBundle, NotABundle } from "../../../../kernels/session/show/checked-bundle.js";

const shows = (given: unknown) => ({ [Symbol.for("Jupyter.display")]: () => given });
const showsSeveral = (given: unknown) => ({ [Symbol.for("banquette.displays")]: () => given });
const circular: Record<string, unknown> = {};
circular.self = circular;

describe("what a value shows itself as", () => {
  it.each([
    ["nothing", shows(undefined), "a display must be an object of MIME types, got undefined"],
    ["a number", shows(7), "a display must be an object of MIME types, got a value of type number"],
    ["a list", shows(["text/plain"]), "a display must be an object of MIME types, got a list"],
    ["a number for a text", shows({ "text/plain": 7 }), "a display's text/plain must be a text"],
    ["a key that is no type", shows({ text: "a" }), "a display's key must be a MIME type"],
    ["a circle", shows({ "application/json": circular }), "a display's application/json must be"],
    ["a big integer", shows({ "application/json": 1n }), "a display's application/json must be"],
    ["a function", shows({ "application/x+json": () => 1 }), "must be JSON, got a value of type"],
    ["no list of displays", showsSeveral({}), "displays must be a list of MIME bundles"],
  ])("is refused where it is %s", async (_, value, text) => {
    await expect(bundlesOf(value)).rejects.toThrow(NotABundle);
    await expect(bundlesOf(value)).rejects.toThrow(text);
  });

  it("is plain data: lists of lines joined, JSON as it would be sent, undefined left out", () => {
    const time = new Date(0);
    expect(
      checkedBundle({
        "text/html": ["<p>", "</p>"],
        "application/json": { time },
        "image/png": undefined,
      }),
    ).toEqual({ "text/html": "<p></p>", "application/json": { time: time.toJSON() } });
  });

  it("is the value as text where it only looks like a bundle", async () => {
    expect(await bundlesOf({ "text/plain": 7 })).toEqual([{ "text/plain": "{ 'text/plain': 7 }" }]);
  });
});
