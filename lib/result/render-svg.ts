import type { VegaLiteSpec } from "./figure.js";

/**
 * A Vega-Lite 5 specification as a standalone SVG document. Without a browser and without a canvas.
 * The same specification gives the same text. Throws where the specification does not compile or
 * compiles with a warning, because a warning means that something is not drawn as asked.
 */
export async function renderSvg(spec: VegaLiteSpec): Promise<string> {
  const [vega, { compile }] = await Promise.all([import("vega"), import("vega-lite")]);
  const logger = strictLogger();
  const compiled = compile(spec as never, { logger });
  const view = new vega.View(vega.parse(compiled.spec), { renderer: "none", logger });
  try {
    return await view.toSVG();
  } finally {
    view.finalize();
  }
}

function strictLogger() {
  const fail = (...parts: readonly unknown[]): never => {
    throw new Error(`figure: ${parts.map(String).join(" ")}`);
  };
  const logger = {
    level: () => logger,
    error: fail,
    warn: fail,
    info: () => logger,
    debug: () => logger,
  };
  return logger as never;
}
