import { type Column, cutAt, meanLog10 } from "../ground/columns.js";
import type { Ground } from "../ground/layered-ground.js";
import type { Foundation } from "./foundation.js";
import type { WeakPlace } from "./weak-places.js";

/** The bank's ground with its weak places in it, on its foundation. */
export function weakGround(
  host: Ground,
  weak: readonly WeakPlace[],
  { foundation, height_m }: { readonly foundation: Foundation; readonly height_m: number },
): Ground {
  const columnAt = (x: number): Column => {
    const bank = onFoundation(host.columnAt(x), height_m, foundation.blanket_m(x));
    return weak.filter(({ from_m, to_m }) => x >= from_m && x <= to_m).reduce(withBody, bank);
  };
  return { ...host, columnAt };
}

/** The ground at the toe: the blanket on the sand. */
export function toeGround({ blanket_m }: Foundation, length_m: number): Ground {
  const columnAt = (x: number): Column => ({
    top_m: [0, 0.3, blanket_m(x)],
    log10: [CRUST, BLANKET, AQUIFER],
  });
  return { kind: "toe", length_m, boundaries_m: [], columnAt };
}

const [CRUST, BLANKET, AQUIFER] = [1.4, 1.2, 1.9];

function onFoundation(column: Column, height_m: number, blanket_m: number): Column {
  const cut = cutAt(column, height_m);
  const kept = cut.top_m.filter((top) => top < height_m).length;
  return {
    top_m: [...cut.top_m.slice(0, kept), height_m, height_m + blanket_m],
    log10: [...cut.log10.slice(0, kept), BLANKET, AQUIFER],
  };
}

/** Sand of 80 ohm-m at the least, and more resistive than what it lies in. */
function withBody(column: Column, { top_m, base_m, contrast }: WeakPlace): Column {
  const cut = cutAt(cutAt(column, top_m), base_m);
  const inside = (j: number) => cut.top_m[j]! >= top_m && cut.top_m[j]! < base_m;
  const sand = Math.max(Math.log10(80), meanLog10(column, top_m, base_m) + contrast);
  return { top_m: cut.top_m, log10: cut.log10.map((value, j) => (inside(j) ? sand : value)) };
}
