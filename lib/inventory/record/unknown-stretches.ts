import { referenceOf, type Work } from "../../chain/work.js";
import type { DepthSlices } from "../../depth/depth-slices.js";
import { valueAt } from "../../numerics/arrays.js";
import { runsWhere } from "../../numerics/runs.js";
import type { UnknownStretch } from "./reach-record.js";

/**
 * Where a reach does not know what others may: stretches without resistivity by depth, stretches
 * that were not compared between campaigns, pieces of evidence that nothing tells anywhere on the
 * line.
 */
export function unknownStretches(work: Work): readonly UnknownStretch[] {
  const reference = referenceOf(work).value;
  return [
    ...work.slices.flatMap(({ value }) => withoutEstimate(value)),
    ...work.changes.flatMap(({ value }) =>
      value.unknown.map(({ from_m, to_m }) => ({
        ...{ campaign: value.later, from_m, to_m },
        what: `not compared with ${value.earlier}`,
      })),
    ),
    ...withoutEvidence(work, reference),
  ];
}

function withoutEstimate(slices: DepthSlices): readonly UnknownStretch[] {
  const { campaign, chainage_m, spacing_m, log10Resistivity } = slices;
  const known = chainage_m.map((_, i) => (log10Resistivity.some((row) => row[i]! > -99) ? 1 : 0));
  return runsWhere(known, (value) => value === 0).map(({ first, last }) => ({
    campaign,
    from_m: valueAt(chainage_m, first) - spacing_m / 2,
    to_m: valueAt(chainage_m, last) + spacing_m / 2,
    what: "no resistivity by depth",
  }));
}

function withoutEvidence({ seepage }: Work, reference: DepthSlices): readonly UnknownStretch[] {
  const { chainage_m, pieces } = seepage.value;
  const [from_m, to_m] = [chainage_m[0], chainage_m.at(-1)];
  if (from_m === undefined || to_m === undefined) return [];
  return pieces
    .filter(({ value }) => value.every(Number.isNaN))
    .map(({ name }) => ({
      ...{ campaign: reference.campaign, from_m, to_m },
      what: `seepage evidence not told: ${name}`,
    }));
}
