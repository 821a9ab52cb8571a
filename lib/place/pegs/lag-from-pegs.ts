import { isPlausible, type PegCheck } from "./peg-checks.js";

/** Slower than this, m/s, a time has no bearing on the lag. */
const SLOWEST = 0.3;

/**
 * The lag by pegs passed in both directions: stated − measured = shift − lag × speed, by least
 * squares. Null with fewer than two pegs in one of the directions.
 */
export function lagFromPegs(pegs: readonly PegCheck[]): number | null {
  const walked = pegs.filter((peg) => isPlausible(peg) && Math.abs(peg.speed_m_per_s) > SLOWEST);
  const ways = [1, -1].map((way) => walked.filter((peg) => peg.speed_m_per_s * way > 0).length);
  if (Math.min(...ways) < 2) return null;
  const mean = (of: (peg: PegCheck) => number) =>
    walked.reduce((sum, peg) => sum + of(peg), 0) / walked.length;
  const off = ({ stated_m, measured_m }: PegCheck) => stated_m - measured_m;
  const [speed, shift] = [mean((peg) => peg.speed_m_per_s), mean(off)];
  const square = mean((peg) => (peg.speed_m_per_s - speed) ** 2);
  return -mean((peg) => (peg.speed_m_per_s - speed) * (off(peg) - shift)) / square;
}
