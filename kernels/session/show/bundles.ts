import { inspect, types } from "node:util";
import { checkedBundle, checkedBundles, soundBundle } from "./checked-bundle.js";
import { frameBundle, isFrame } from "./frame-table.js";
import { imageBundle, isBundle } from "./images.js";
import type { MimeBundle } from "./outputs.js";
import { ShownRecords } from "./shown-records.js";
import { vegaLiteBundles, vegaLiteOf } from "./vega-lite.js";

const severalBundles = Symbol.for("banquette.displays");
const oneBundle = Symbol.for("Jupyter.display");

/** Longest text shown for a value, lines and characters. */
const shownLines = 60;
const shownCharacters = 20_000;
/** Longest list of which each element shows itself. */
const shownElements = 50;

/**
 * The MIME bundles by which a value shows itself; none for null and undefined. Promises are awaited.
 * In this order: the value's own list of bundles, its own single bundle, a data frame as a table, a
 * Vega-Lite specification as a figure, a MIME bundle as itself, the bytes of an image, a list of such
 * values as each of them in turn, anything else as text. What a value has to say in the light of the records shown before it comes last.
 */
export async function bundlesOf(
  value: unknown,
  records = new ShownRecords(),
  isWanted = () => true,
): Promise<readonly MimeBundle[]> {
  if (value instanceof Promise) return bundlesOf(await (value as Promise<unknown>), records);
  if (isGallery(value)) return eachInTurn(value, records);
  const bundles = await ownBundles(value, isWanted);
  const notice = records.noticeOf(value);
  return notice === null ? bundles : [...bundles, notice];
}

/** The same at once, for values that take no time and say nothing themselves; null for others. */
export function bundlesNow(value: unknown): readonly MimeBundle[] | null {
  if (value instanceof Promise || isGallery(value) || showsItself(value)) return null;
  return dataBundles(value);
}

async function ownBundles(value: unknown, isWanted: () => boolean): Promise<readonly MimeBundle[]> {
  const several = ownMethod(value, severalBundles);
  if (several !== null) return checkedBundles(await several());
  const one = ownMethod(value, oneBundle);
  if (one !== null) return [checkedBundle(await one())];
  const figure = isFrame(value) ? null : vegaLiteOf(value);
  if (figure === null) return dataBundles(value);
  if (figure === value) return vegaLiteBundles(figure, isWanted);
  // What only looks like a specification is shown as it is.
  return vegaLiteBundles(figure, isWanted).catch(() => dataBundles(value));
}

function dataBundles(value: unknown): readonly MimeBundle[] {
  if (value === null || value === undefined) return [];
  if (isFrame(value)) return [frameBundle(value)];
  const bundle = isBundle(value) ? soundBundle(value) : null;
  if (bundle !== null) return [bundle];
  const image = value instanceof Uint8Array ? imageBundle(value, "Image") : null;
  if (image !== null) return [image];
  return [{ "text/plain": plainText(value) }];
}

function isGallery(value: unknown): value is readonly unknown[] {
  if (!Array.isArray(value) || value.length === 0 || value.length > shownElements) return false;
  return value.every((one) => showsItself(one));
}

function showsItself(value: unknown): boolean {
  if (ownMethod(value, severalBundles) !== null || ownMethod(value, oneBundle) !== null)
    return true;
  return isFrame(value) || vegaLiteOf(value) !== null;
}

async function eachInTurn(
  values: readonly unknown[],
  records: ShownRecords,
): Promise<readonly MimeBundle[]> {
  const bundles: MimeBundle[] = [];
  for (const value of values) bundles.push(...(await bundlesOf(value, records)));
  return bundles;
}

function ownMethod(value: unknown, name: symbol): (() => unknown) | null {
  if ((typeof value !== "object" || value === null) && typeof value !== "function") return null;
  // A module or a proxy may answer to any name: only a function counts.
  const method = (value as Record<symbol, unknown>)[name];
  return typeof method === "function" ? () => method.call(value) as unknown : null;
}

/** A value as text, shortened: 20 elements of a list, 4 levels, 60 lines, 20,000 characters. */
export function plainText(value: unknown): string {
  const typed = ArrayBuffer.isView(value) || types.isAnyArrayBuffer(value);
  const whole = inspect(value, {
    depth: 4,
    maxArrayLength: 20,
    maxStringLength: 2000,
    breakLength: 100,
    showHidden: false,
    compact: typed ? 20 : 3,
  });
  const cut = whole.length - shownCharacters;
  const text = cut > 0 ? `${whole.slice(0, shownCharacters)}… ${cut} more characters` : whole;
  const lines = text.split("\n");
  if (lines.length <= shownLines) return text;
  const more = lines.length - shownLines;
  return [...lines.slice(0, shownLines), `… ${more} more lines`].join("\n");
}
