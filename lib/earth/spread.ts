import { type Fault, quoted } from "../numerics/step-error.js";

/** Positions of four electrodes along a line, m; `Infinity` is a remote electrode. */
export interface Spread {
  /** Current electrodes. */
  readonly a_m: number;
  readonly b_m: number;
  /** Potential electrodes. */
  readonly m_m: number;
  readonly n_m: number;
}

/**
 * The geometric factor K = 2π/(1/AM − 1/BM − 1/AN + 1/BN), m, of a spread on flat ground; a remote
 * electrode's terms are 0. Infinite where the spread measures nothing; NaN gives NaN.
 * Source: Telford, Geldart & Sheriff 1990, eq. 8.25.
 *
 * @example geometricFactor({ a_m: 0, m_m: 2, n_m: 4, b_m: 6 }); // 12.566 (Wenner, 2πa)
 */
export function geometricFactor(spread: Spread): number {
  const { a_m, b_m, m_m, n_m } = spread;
  return (
    (2 * Math.PI) /
    (nearness(a_m, m_m) - nearness(b_m, m_m) - nearness(a_m, n_m) + nearness(b_m, n_m))
  );
}

function nearness(from: number, to: number): number {
  if (Math.abs(from) === Infinity || Math.abs(to) === Infinity) return 0;
  return 1 / Math.abs(from - to);
}

const ELECTRODES = ["a_m", "b_m", "m_m", "n_m"] as const;

/** A spread's positions that are not numbers, electrodes that coincide, a spread without signal. */
export function spreadFaults(spread: Spread): Fault[] {
  const position = (electrode: (typeof ELECTRODES)[number]): unknown => spread?.[electrode];
  const bad = ELECTRODES.filter((electrode) => {
    const value = position(electrode);
    return !(typeof value === "number" && !Number.isNaN(value));
  });
  const expected = "a position in m, or Infinity for a remote electrode";
  const faults = bad.map((electrode) => ({
    code: "not-a-position",
    path: `spread.${electrode}`,
    expected,
    received: quoted(position(electrode)),
  }));
  return faults.length > 0 ? faults : signalFaults(spread);
}

function signalFaults(spread: Spread): Fault[] {
  const { a_m, b_m, m_m, n_m } = spread;
  const text = `A ${a_m}, B ${b_m}, M ${m_m}, N ${n_m}`;
  const touching = [a_m, b_m].some(
    (current) => Number.isFinite(current) && [m_m, n_m].includes(current),
  );
  if (touching) {
    const expected = "a spread whose potential electrodes stand apart from its current electrodes";
    return [{ code: "electrodes-coincide", path: "spread", expected, received: text }];
  }
  const factor = geometricFactor(spread);
  const scale = Math.min(
    ...[a_m, b_m].flatMap((c) => [m_m, n_m].map((p) => Math.abs(c - p) || Infinity)),
  );
  if (Math.abs(factor) < 1e9 * scale) return [];
  const expected = "a spread with a potential difference: 1/AM − 1/BM − 1/AN + 1/BN not 0";
  return [{ code: "no-signal", path: "spread", expected, received: text }];
}
