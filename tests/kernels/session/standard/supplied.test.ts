import { describe, expect, it } from "vitest";
import { mapGroupBy, objectGroupBy } from "../../../../kernels/session/standard/grouping.js";
import { libraryFiles } from "../../../../kernels/session/standard/library-files.js";
import { withNewerNode } from "../../../../kernels/session/standard/newer-node.js";
import {
  arrayFromAsync,
  promiseWithResolvers,
} from "../../../../kernels/session/standard/promised.js";

describe("groupBy", () => {
  it("groups in order, under property names in an object without a prototype", () => {
    const groups = objectGroupBy([3, 1, 4, 1, 5], (value, index) => (index < 2 ? 1 : value % 2));
    expect(Object.getPrototypeOf(groups)).toBeNull();
    expect({ ...groups }).toEqual({ 1: [3, 1, 1, 5], 0: [4] });
    const mark = Symbol("mark");
    expect(objectGroupBy([1], () => mark)[mark]).toEqual([1]);
    expect(Object.keys(objectGroupBy([1], () => "__proto__"))).toEqual(["__proto__"]);
  });

  it("keeps what a map's keys are, minus nought as nought", () => {
    const key = { soil: "clay" };
    expect(mapGroupBy([1, 2], () => key).get(key)).toEqual([1, 2]);
    expect([...mapGroupBy([1], () => -0).keys()]).toEqual([0]);
  });

  it("refuses what is no function or no iterable", () => {
    expect(() => mapGroupBy([1], 3 as never)).toThrow(TypeError);
    expect(() => objectGroupBy(3 as never, String)).toThrow(TypeError);
  });
});

async function* slowly() {
  yield 1;
  yield 2;
}

describe("Array.fromAsync", () => {
  const from = arrayFromAsync.bind(Array);
  it("waits for each value of an async iterable, an iterable and what is like a list", async () => {
    expect(await from(slowly())).toEqual([1, 2]);
    expect(await from([1, Promise.resolve(2)])).toEqual([1, 2]);
    expect(await from({ length: 2, 0: Promise.resolve("a"), 1: "b" })).toEqual(["a", "b"]);
    const asked: number[] = [];
    const doubled = async (value: unknown, index: number) => {
      asked.push(index);
      return 2 * (value as number);
    };
    expect(await from(slowly(), doubled)).toEqual([2, 4]);
    expect(asked).toEqual([0, 1]);
  });

  it("rejects instead of throwing, and makes what it is a method of", async () => {
    await expect(from(null as never)).rejects.toThrow(TypeError);
    await expect(from([1], 3 as never)).rejects.toThrow(TypeError);
    await expect(from([Promise.reject(new Error("no level"))])).rejects.toThrow("no level");
    class Levels extends Array {}
    expect(await arrayFromAsync.call(Levels, [1])).toBeInstanceOf(Levels);
  });
});

it("Promise.withResolvers gives a promise and what settles it", async () => {
  const { promise, resolve } = promiseWithResolvers.call(Promise);
  (resolve as (value: number) => void)(3);
  expect(await promise).toBe(3);
});

describe("names that this Node may lack", () => {
  const has = (name: string) => libraryFiles().includes(`lib.${name}.d.ts`);

  it("are declared where it has them", () => {
    expect(has("esnext.iterator")).toBe("Iterator" in globalThis);
    expect(has("esnext.disposable")).toBe("DisposableStack" in globalThis);
    expect(has("esnext.collection")).toBe(true);
  });

  it.runIf(Number.parseInt(process.versions.node, 10) < 22)("are told with the version", () => {
    const said = withNewerNode("Property 'map' does not exist on type 'ArrayIterator<number>'.");
    expect(said).toMatch(/ArrayIterator<number>'; it came with Node 22, and this is Node 2[01]\./);
    const own = "Property 'map' does not exist on type 'Reading'.";
    expect(withNewerNode(own)).toBe(own);
    const advice = " Do you need to change your target library? Try changing the 'lib' compiler …";
    expect(withNewerNode(`Cannot find name 'DisposableStack'.${advice}`)).toMatch(
      /^Cannot find name 'DisposableStack'; it came with Node 24/,
    );
  });
});
