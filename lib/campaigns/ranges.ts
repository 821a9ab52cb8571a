export interface ChainageRange {
  readonly from_m: number;
  readonly to_m: number;
}

/** A range of depths, such as a slice's. */
export interface DepthRange {
  readonly top_m: number;
  readonly base_m: number;
}

/** Such as "0.0–1.0". */
export const depthText = ({ top_m, base_m }: DepthRange) =>
  `${top_m.toFixed(1)}–${base_m.toFixed(1)}`;

/** Such as "1838–1912 m". */
export const placeText = ({ from_m, to_m }: ChainageRange) =>
  `${from_m.toFixed(0)}–${to_m.toFixed(0)} m`;

export const sameDepths = (one: DepthRange, other: DepthRange) =>
  Math.abs(one.top_m - other.top_m) < 1e-6 && Math.abs(one.base_m - other.base_m) < 1e-6;

/** Such as "1.02–1.59". */
export const intervalText = (interval: readonly [number, number], decimals = 2) =>
  interval.map((value) => value.toFixed(decimals)).join("–");

/** With its sign, such as "−5.6". */
export const signedText = (value: number, decimals: number) =>
  `${value < 0 ? "−" : "+"}${Math.abs(value).toFixed(decimals)}`;
