import type { Figure, VegaLiteSpec } from "../figure.js";
import type { StepAccount } from "../step-account.js";
import { accountHtml, accountText } from "./account-html.js";
import { escapeHtml } from "./html.js";
import { renderSvg } from "./render-svg.js";
import { slimSvg } from "./slim-svg.js";

/** A Jupyter MIME bundle: MIME type → text, or JSON for `+json` types. */
export type DisplayBundle = { readonly [mime: string]: unknown };

/** The account of a step as one bundle: HTML with the figures drawn in, and plain text. */
export async function displayOne(account: StepAccount<unknown>): Promise<DisplayBundle> {
  const figures = await inOrder(account.figures, figureHtml);
  return {
    "text/html": accountHtml(account, figures.join("\n")),
    "text/plain": accountText(account),
  };
}

/**
 * The account of a step as a bundle, before it the figures that lead, and each other figure after:
 * the Vega-Lite specification with id, title and caption under `usermeta.banquette`, the drawing as
 * SVG, and title and caption as text.
 */
export async function displayAll(account: StepAccount<unknown>): Promise<readonly DisplayBundle[]> {
  const first = { "text/html": accountHtml(account), "text/plain": accountText(account) };
  const leading = await inOrder(account.figures.filter(leads), figureBundle);
  const others = account.figures.filter((figure) => !leads(figure));
  return [...leading, first, ...(await inOrder(others, figureBundle))];
}

const leads = (figure: Figure) => figure.leads ?? false;

async function figureBundle(figure: Figure): Promise<DisplayBundle> {
  const { id, title, caption } = figure;
  const spec: VegaLiteSpec = { ...figure.spec, usermeta: { banquette: { id, title, caption } } };
  return {
    "application/vnd.vegalite.v5+json": spec,
    "image/svg+xml": await drawing(figure),
    "text/plain": `${title}\n${caption}`,
  };
}

async function figureHtml(figure: Figure): Promise<string> {
  const svg = await drawing(figure);
  return `<figure>${svg}<figcaption>${escapeHtml(figure.caption)}</figcaption></figure>`;
}

async function drawing({ id, spec }: Figure): Promise<string> {
  return slimSvg(await renderSvg(spec, { prefix: idPrefix(id), warnings: "ignore" }));
}

function idPrefix(id: string): string {
  return `${id.replace(/[^A-Za-z0-9_-]/g, "-")}-`;
}

/** One after the other, so that memory holds one drawing at a time and the order is certain. */
async function inOrder<In, Out>(
  items: readonly In[],
  turn: (item: In) => Promise<Out>,
): Promise<readonly Out[]> {
  const out: Out[] = [];
  for (const item of items) out.push(await turn(item));
  return out;
}
