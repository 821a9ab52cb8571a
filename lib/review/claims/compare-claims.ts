import type { Findings } from "../../chain/findings.js";
import { appendixClaims } from "./appendix-claims.js";
import type { Claim, ClaimPair, ClaimPlace } from "./claim.js";

/** Claims on stretches are on one place where they share this much of what they hold together. */
const SHARED = 0.5;
/** Claims on points, such as boreholes, are on one place within this distance, m. */
const NEAR_M = 25;

/**
 * Two appendices of one bank, claim by claim: before and after drilling, or by two people. Claims
 * of one kind on one line are set side by side where their stretches share at least half of what
 * they hold together, points where they lie within 25 m, the most alike first; each claim has one
 * partner at the most. A pair is altered where it says another thing (direction of a change, band
 * of seepage) or states intervals that do not meet. Letters of classes belong to one appendix and
 * are not compared: `compareSegmentations` does that.
 *
 * @param here findings of the one appendix
 * @param there findings of the other
 * @returns every claim of both once, pairs first along the claims of the one
 * @example compareClaims(findings, findings).every((pair) => pair.how === "") // true
 */
export function compareClaims(here: Findings, there: Findings): readonly ClaimPair[] {
  const [one, other] = [appendixClaims(here), appendixClaims(there)];
  const partners = pairedUp(one, other);
  const taken = new Set(partners.values());
  return [
    ...one.map((claim) => pairOf(claim, partners.get(claim) ?? null)),
    ...other.filter((claim) => !taken.has(claim)).map((claim) => pairOf(null, claim)),
  ];
}

/** Each claim's partner, the most alike pairs first. */
function pairedUp(one: readonly Claim[], other: readonly Claim[]): ReadonlyMap<Claim, Claim> {
  const likely = one.flatMap((claim) =>
    other.flatMap((partner) => {
      const likeness = likenessOf(claim, partner);
      return likeness > 0 ? [{ claim, partner, likeness }] : [];
    }),
  );
  const [paired, taken] = [new Map<Claim, Claim>(), new Set<Claim>()];
  for (const { claim, partner } of likely.toSorted((a, b) => b.likeness - a.likeness)) {
    if (paired.has(claim) || taken.has(partner)) continue;
    paired.set(claim, partner);
    taken.add(partner);
  }
  return paired;
}

/** From 0, two places, to 1, the same. */
function likenessOf(one: Claim, other: Claim): number {
  if (one.kind !== other.kind || one.line !== other.line) return 0;
  if (one.from_m === null || other.from_m === null) return one.word === other.word ? 1 : 0;
  const [oneTo, otherTo] = [one.to_m ?? one.from_m, other.to_m ?? other.from_m];
  const whole = Math.max(oneTo, otherTo) - Math.min(one.from_m, other.from_m);
  if (oneTo === one.from_m || otherTo === other.from_m) return Math.max(0, 1 - whole / NEAR_M);
  const share = (Math.min(oneTo, otherTo) - Math.max(one.from_m, other.from_m)) / whole;
  return share >= SHARED ? share : 0;
}

function pairOf(here: Claim | null, there: Claim | null): ClaimPair {
  const kind = (here ?? there)?.kind ?? "make of bank";
  const [said, other] = [here?.statement ?? null, there?.statement ?? null];
  const places = { here: placeOf(here), there: placeOf(there) };
  if (here === null || there === null) {
    const outcome = here === null ? "only there" : "only here";
    return { kind, outcome, here: said, there: other, how: "", places };
  }
  const how = differences(here, there).join("; ");
  return { kind, outcome: how === "" ? "both" : "altered", here: said, there: other, how, places };
}

function placeOf(claim: Claim | null): ClaimPlace | null {
  if (claim === null || claim.from_m === null) return null;
  const { line, from_m, to_m } = claim;
  return { ...(line !== undefined && { line }), from_m, to_m: to_m ?? from_m };
}

function differences(here: Claim, there: Claim): readonly string[] {
  const words = here.word === there.word ? [] : [`${here.word} here, ${there.word} there`];
  const apart = here.numbers.flatMap(({ name, low, high }) => {
    const same = there.numbers.find((number) => number.name === name);
    return same === undefined || (same.low <= high && low <= same.high)
      ? []
      : [`${low} to ${high} ${name} here, ${same.low} to ${same.high} there`];
  });
  return [...words, ...apart];
}

/** How many claims two appendices share, and which do not hold in both, in one sentence. */
export function claimsText(pairs: readonly ClaimPair[]): string {
  const count = (outcome: ClaimPair["outcome"]) =>
    pairs.filter((pair) => pair.outcome === outcome).length;
  return (
    `Claim by claim: ${count("both")} in both, ${count("altered")} altered, ` +
    `${count("only here")} only here, ${count("only there")} only in the other.`
  );
}
