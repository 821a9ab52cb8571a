import { seededRandom } from "../../numerics/random.js";

/** Up to here every order of the campaigns is tried. */
const ALL_UP_TO = 6;

/** The given order of c campaigns first, then all others for up to six, else `draws` drawn ones. */
export function campaignOrders(
  c: number,
  options: { readonly draws: number; readonly seed: number },
): readonly (readonly number[])[] {
  const given = Array.from({ length: c }, (_, i) => i);
  if (c <= ALL_UP_TO) return allOrders(given);
  const random = seededRandom(options.seed);
  const drawn = Array.from({ length: options.draws }, () => {
    const order = [...given];
    for (let i = c - 1; i > 0; i--) {
      const j = random.integer(i + 1);
      [order[i], order[j]] = [order[j]!, order[i]!];
    }
    return order;
  });
  return [given, ...drawn];
}

/** In lexicographic order, so that the given one comes first. */
function allOrders(items: readonly number[]): number[][] {
  if (items.length < 2) return [[...items]];
  return items.flatMap((item, i) =>
    allOrders([...items.slice(0, i), ...items.slice(i + 1)]).map((rest) => [item, ...rest]),
  );
}
