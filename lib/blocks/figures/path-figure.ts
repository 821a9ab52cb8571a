import { firstOf, lastOf } from "../../numerics/arrays.js";
import type { Figure } from "../../step/figure.js";
import { listText } from "../../step/list-text.js";
import type { Blocks, BlocksPathStep } from "../blocks.js";
import { type PathBoundary, pathSpec } from "./path-spec.js";

/** Boundaries of neighbouring optima that lie so near are taken for one, m. */
const SAME_M = 25;

/** Each boundary as a bar over the prices of the cuts that have it; null where there is none. */
export function pathFigure({ blocks, path, campaign }: Blocks): Figure | null {
  const bars = trackedBoundaries(path ?? []);
  if (bars.length === 0 || blocks.length === 0) return null;
  const title = pathTitle(bars);
  const spec = pathSpec(bars, {
    title,
    subtitle:
      `Campaign ${campaign}; each bar is a boundary, drawn over the prices at which it is worth ` +
      "having",
    domain_m: [firstOf(blocks).from_m, lastOf(blocks).to_m],
  });
  return {
    id: `blocks-path-${campaign}`,
    title,
    caption:
      "The prices at which each boundary is worth having, with the noise held: at a price that " +
      "was given, of the exact best cuts; else up to what the line is likelier with it. Bars that " +
      "reach highest are the boundaries that come first when the price falls; a bar that ends just " +
      "above 1 hangs by a thread, and one that ends below 1 was not drawn but nearly was.",
    spec,
  };
}

const drawn = ({ from, to }: PathBoundary) => from < 1 && to >= 1;

/** "5.0" or "66": two digits, never an exponent. */
const times = (value: number) => (value < 10 ? value.toPrecision(2) : value.toFixed(0));

function pathTitle(bars: readonly PathBoundary[]): string {
  const kept = bars.filter(drawn).sort((one, other) => one.to - other.to);
  const least = kept[0]?.to;
  if (least === undefined) return "No boundary is worth its price";
  const first = kept
    .filter(({ to }) => to <= least * (1 + 1e-9))
    .map(({ at_m }) => at_m.toFixed(0));
  const one = first.length === 1;
  const which = `${one ? "boundary" : "boundaries"} at ${listText(first)} m`;
  if (least < 1.5) {
    return (
      `The ${which} ${one ? "hangs by a thread: it goes" : "hang by a thread: they go"} at ` +
      `${times(least)} times the price used`
    );
  }
  return (
    `Every boundary stands up to ${times(least)} times the price used; the ${which} would go ` +
    "first"
  );
}

/** Boundaries followed from optimum to optimum, each to the nearest one within reach. */
function trackedBoundaries(path: readonly BlocksPathStep[]): PathBoundary[] {
  let open: PathBoundary[] = [];
  const closed: PathBoundary[] = [];
  for (const { price, boundaries_m } of path) {
    const next: PathBoundary[] = [];
    for (const at_m of boundaries_m) {
      const near = open
        .filter(
          (bar) =>
            Math.abs(bar.at_m - at_m) <= SAME_M &&
            !next.some((n) => n.from === bar.from && n.at_m === bar.at_m),
        )
        .sort((a, b) => Math.abs(a.at_m - at_m) - Math.abs(b.at_m - at_m))[0];
      if (near !== undefined) open = open.filter((bar) => bar !== near);
      // The place shown is that at the price used, or the last one before.
      const place = near !== undefined && price[0] >= 1 ? near.at_m : at_m;
      next.push({ at_m: place, from: near?.from ?? price[0], to: price[1] });
    }
    closed.push(...open);
    open = next;
  }
  return [...closed, ...open].sort((one, other) => one.at_m - other.at_m);
}
