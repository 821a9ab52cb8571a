import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { Ajv, type ValidateFunction } from "ajv";
import { expect } from "vitest";
import type { VegaLiteSpec } from "../../../lib/step/figure.js";
import { renderSvg } from "../../../lib/step/show/render-svg.js";

let validate: ValidateFunction | null = null;

/** Fails unless the specification follows the Vega-Lite schema and is plain, finite JSON. */
export function expectValidSpec(spec: VegaLiteSpec): void {
  validate ??= schemaCheck();
  const plain = JSON.parse(JSON.stringify(spec));
  expect(plain).toEqual(spec);
  validate(plain);
  expect(validate.errors ?? []).toEqual([]);
  expect(stackedRanges(plain)).toEqual([]);
}

/**
 * Ranged areas (y with y2) that do not say stack: null on both axes. Vega-Lite
 * 5.6, which notebook front ends carry, stacks them along either; later ones do not.
 */
function stackedRanges(unit: unknown): unknown[] {
  if (typeof unit !== "object" || unit === null) return [];
  const { mark, encoding, ...rest } = unit as Record<string, unknown>;
  const inner = Object.values(rest).flatMap((value) =>
    Array.isArray(value) ? value.flatMap(stackedRanges) : stackedRanges(value),
  );
  const type = typeof mark === "string" ? mark : (mark as { type?: string } | undefined)?.type;
  if (type !== "area") return inner;
  const { x, y, y2 } = encoding as Record<"x" | "y" | "y2", { stack?: unknown } | undefined>;
  const told = x?.stack === null && y?.stack === null;
  return y2 !== undefined && !told ? [encoding, ...inner] : inner;
}

/** Draws the specification; a warning of the compiler or the view fails. */
export async function expectDraws(spec: VegaLiteSpec): Promise<string> {
  const svg = await renderSvg(spec);
  expect(svg).toMatch(/^<svg [^>]*xmlns="http:\/\/www.w3.org\/2000\/svg"/);
  expect(svg).not.toMatch(/NaN|undefined|Infinity/);
  return svg;
}

function schemaCheck(): ValidateFunction {
  const path = createRequire(import.meta.url).resolve("vega-lite/build/vega-lite-schema.json");
  // Making its code short takes longer than it saves here.
  const ajv = new Ajv({ strict: false, validateFormats: false, code: { optimize: false } });
  return ajv.compile(JSON.parse(readFileSync(path, "utf8")));
}
