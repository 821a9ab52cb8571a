import type { VegaLiteSpec } from "../figure.js";
import { textWidth } from "./text-width.js";

export interface SvgOptions {
  /** Put before every id, so that several drawings can stand in one page; default "". */
  readonly prefix?: string;
  /** What a warning of the compiler does: "throw" (default) or "ignore". */
  readonly warnings?: "throw" | "ignore";
  /** Gives the text at an address from which the specification asks data; default: refuses. */
  readonly load?: (address: string) => Promise<string>;
}

/**
 * A Vega-Lite 5 specification as a standalone SVG document, without a browser and without a canvas.
 * The same specification gives the same text. Throws where the specification does not compile, and
 * on a warning unless `warnings` is "ignore", because a warning means that something is not drawn
 * as asked. Data that are asked from an address are refused unless `load` gives them; where it does
 * not, it throws.
 */
export async function renderSvg(spec: VegaLiteSpec, options: SvgOptions = {}): Promise<string> {
  const [vega, { compile }] = await Promise.all([import("vega"), import("vega-lite")]);
  measureText(vega);
  const logger = silentLogger(options.warnings ?? "throw");
  const compiled = compile(plainCopy(spec) as never, { logger });
  const { loader, faults } = loaderOf(vega.loader(), options.load ?? refuse);
  const view = new vega.View(vega.parse(compiled.spec), { renderer: "none", logger, loader });
  try {
    const svg = await Promise.race([view.toSVG(), faults]);
    return numbered(svg, options.prefix ?? "");
  } finally {
    view.finalize();
  }
}

async function refuse(address: string): Promise<string> {
  throw new Error(`figure: data must be given as values, got the address ${address}`);
}

/**
 * Vega reports data that do not come as a warning, and then waits for ever: it is told nothing, and
 * `faults` rejects with the first fault.
 */
function loaderOf<Loader extends object>(
  loader: Loader,
  load: (address: string) => Promise<string>,
) {
  let fail: (error: unknown) => void = () => undefined;
  const faults = new Promise<never>((_, reject) => {
    fail = reject;
  });
  faults.catch(() => undefined);
  const loading = (address: string) =>
    load(address).catch((error: unknown) => {
      fail(error);
      return new Promise<string>(() => undefined);
    });
  return { loader: { ...loader, load: loading }, faults };
}

/** Vega counts the clip paths and gradients of a whole process; here each drawing starts at 0. */
function numbered(svg: string, prefix: string): string {
  const names = new Map<string, string>();
  const place = /( id="|url\(#)((?:clip|gradient_?)\d+)/g;
  return svg.replace(place, (_, before: string, name: string) => {
    const own = names.get(name) ?? `${prefix}${name.replace(/\d+/, "")}${names.size}`;
    names.set(name, own);
    return before + own;
  });
}

/** Frozen results must not meet a compiler that could write into its input. */
function plainCopy(spec: VegaLiteSpec): unknown {
  return JSON.parse(JSON.stringify(spec));
}

interface TextItem {
  readonly fontSize?: number;
  readonly fontWeight?: string | number;
  readonly limit?: number;
}

/** Without a canvas Vega guesses 0.8 em a letter, far too wide; it accepts a measure of ours. */
function measureText(vega: object): void {
  const metrics = (vega as { textMetrics?: { width: unknown } }).textMetrics;
  if (metrics === undefined) return;
  metrics.width = (item: TextItem, text: unknown) => {
    const bold = item.fontWeight === "bold" || Number(item.fontWeight) >= 600;
    const width = textWidth(
      String(text ?? "").trim(),
      item.fontSize ?? 11,
      bold ? "bold" : "normal",
    );
    return item.limit !== undefined && item.limit > 0 ? Math.min(width, item.limit) : width;
  };
}

interface Logger {
  readonly level: () => Logger;
  readonly error: (...parts: readonly unknown[]) => Logger;
  readonly warn: (...parts: readonly unknown[]) => Logger;
  readonly info: () => Logger;
  readonly debug: () => Logger;
}

function silentLogger(warnings: "throw" | "ignore") {
  const fail = (...parts: readonly unknown[]): never => {
    throw new Error(`figure: ${parts.map(String).join(" ")}`);
  };
  const quiet = (): Logger => logger;
  const warn = warnings === "throw" ? fail : quiet;
  const logger: Logger = { level: quiet, error: fail, warn, info: quiet, debug: quiet };
  return logger as never;
}
