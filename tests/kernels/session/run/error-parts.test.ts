import { describe, expect, it } from "vitest";
import { errorParts } from "../../../../kernels/session/run/error-parts.js";
import { errorOutput } from "../../../../kernels/session/run/traceback.js";

const told = (error: unknown) => errorOutput(error, new Map(), "/");

const refusing = new Proxy(
  {},
  {
    get: () => {
      throw new Error("asked");
    },
    getPrototypeOf: () => {
      throw new Error("asked");
    },
    ownKeys: () => {
      throw new Error("asked");
    },
  },
);

const throwing = (...keys: readonly string[]) => {
  const error = new Error("planned");
  for (const key of keys) {
    Object.defineProperty(error, key, {
      get: () => {
        throw new Error("asked");
      },
    });
  }
  return error;
};

describe("a thrown value that does not want to be asked", () => {
  it.each([
    ["a proxy that refuses everything", refusing, "Thrown object"],
    ["an error without a name to have", throwing("name"), "Error"],
    ["an error whose every getter throws", throwing("stack", "name", "message", "cause"), "Error"],
    ["null", null, "Thrown value"],
    ["a symbol", Symbol("bank"), "Thrown value"],
    ["an object without a prototype", Object.create(null), "Thrown object"],
    [
      "an object whose text throws",
      { [Symbol.for("nodejs.util.inspect.custom")]: () => refusing.toString() },
      "Thrown object",
    ],
  ])("is told all the same: %s", (_, error, name) => {
    const output = told(error);
    expect(output.ename).toBe(name);
    expect(output.traceback.every((line) => typeof line === "string")).toBe(true);
    expect(JSON.parse(JSON.stringify(output))).toEqual(output);
  });

  it("is a text where its words are none", () => {
    const error = Object.assign(new Error(""), { name: 7, message: { a: 1 } });
    expect(errorParts(error)).toMatchObject({ name: "7", message: "[object Object]" });
  });

  it("ends, where an error is its own cause and is made of itself", () => {
    const error = new AggregateError([], "planned");
    error.cause = error;
    error.errors.push(error, error);
    const heads = told(error).traceback.filter((line) => line.includes("AggregateError: planned"));
    expect(heads.length).toBeLessThan(100);
  });

  it("is shortened", () => {
    expect(errorParts("x".repeat(1e6)).message).toMatch(/x… 980000 more characters$/);
  });
});
