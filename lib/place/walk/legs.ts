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

/**
 * Cuts a walk into stretches of one direction: a turning point is a furthest chainage from which the
 * walk comes back by more than 2 m. Rows without a chainage are passed over; a new line name starts a
 * new leg.
 */
export function legsOf(chainage_m: Float64Array, line?: readonly string[]): readonly Leg[] {
  const legs: Leg[] = [];
  let [first, far, way] = [-1, -1, 0];
  const close = (last: number) => {
    if (first < 0 || last <= first) return;
    const [from_m, to_m] = [chainage_m[first]!, chainage_m[last]!];
    legs.push({ first, last, from_m, to_m, way: to_m >= from_m ? 1 : -1 });
  };
  for (let i = 0; i < chainage_m.length; i++) {
    const here = chainage_m[i]!;
    if (Number.isNaN(here)) continue;
    if (first < 0 || (line !== undefined && line[i] !== line[far])) {
      close(far);
      [first, far, way] = [i, i, 0];
      continue;
    }
    const ahead = here - chainage_m[far]!;
    if (way === 0 && Math.abs(here - chainage_m[first]!) > TURN_M) {
      way = Math.sign(here - chainage_m[first]!);
      far = i;
    } else if (way === 0 || ahead * way >= 0) {
      far = i;
    } else if (-ahead * way > TURN_M) {
      close(far);
      [first, far, way] = [far, i, -way];
    }
  }
  close(far);
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
