/** A stretch walked in one direction. */
export interface Leg {
  /** First and last row, both within. */
  readonly first: number;
  readonly last: number;
  readonly from_m: number;
  readonly to_m: number;
  /** 1 toward increasing chainage, −1 the other way. */
  readonly way: 1 | -1;
}

/** The walk turns where it comes back by this much, m: less is jitter. */
const TURN_M = 2;

/** A row of the walk and where it lies. */
interface Point {
  readonly row: number;
  readonly at_m: number;
}

/**
 * Cuts a walk into stretches of one direction: a turning point is a furthest chainage from which
 * the walk comes back by more than 2 m. Rows without a chainage are passed over; a new line name
 * starts a new leg.
 */
export function legsOf(chainage_m: Float64Array, line?: readonly string[]): readonly Leg[] {
  const legs: Leg[] = [];
  let [first, far, way]: [Point | null, Point | null, number] = [null, null, 0];
  const close = () => {
    if (first === null || far === null || far.row <= first.row) return;
    const [from_m, to_m] = [first.at_m, far.at_m];
    legs.push({ first: first.row, last: far.row, from_m, to_m, way: to_m >= from_m ? 1 : -1 });
  };
  for (const [row, at_m] of chainage_m.entries()) {
    if (Number.isNaN(at_m)) continue;
    const here = { row, at_m };
    if (first === null || far === null || line?.[row] !== line?.[far.row]) {
      close();
      [first, far, way] = [here, here, 0];
      continue;
    }
    const ahead_m = at_m - far.at_m;
    if (way === 0 && Math.abs(at_m - first.at_m) > TURN_M) {
      way = Math.sign(at_m - first.at_m);
      far = here;
    } else if (way === 0 || ahead_m * way >= 0) {
      far = here;
    } else if (-ahead_m * way > TURN_M) {
      close();
      [first, far, way] = [far, here, -way];
    }
  }
  close();
  return legs;
}

/** A leg this short, m, between two longer ones is a step back, no second walk. */
const STEP_BACK_M = 15;

/** The short legs against the way of the walk about them. */
export function stepsBack(legs: readonly Leg[]): readonly Leg[] {
  const length = ({ from_m, to_m }: Leg) => Math.abs(to_m - from_m);
  return legs.filter((leg, k) => {
    const [before, after] = [legs[k - 1], legs[k + 1]];
    if (before === undefined || after === undefined || length(leg) > STEP_BACK_M) return false;
    return length(before) > length(leg) && length(after) > length(leg);
  });
}
