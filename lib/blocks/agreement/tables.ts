import type { Table } from "../../step/figure.js";
import type { SegmentationAgreement } from "./agreement.js";

/** Boundaries side by side, and which class is which. */
export function agreementTables(agreement: SegmentationAgreement): readonly Table[] {
  return [boundariesTable(agreement), classesTable(agreement)];
}

function boundariesTable({ matched, onlyOne_m, onlyOther_m, within_m }: SegmentationAgreement) {
  const rows = [
    ...matched.map(({ one_m, other_m }) => ({
      one_m,
      other_m,
      apart_m: Math.abs(one_m - other_m),
    })),
    ...onlyOne_m.map((one_m) => ({ one_m, other_m: null, apart_m: null })),
    ...onlyOther_m.map((other_m) => ({ one_m: null, other_m, apart_m: null })),
  ];
  const place = (row: (typeof rows)[number]) => row.one_m ?? row.other_m ?? 0;
  return {
    id: "agreement-boundaries",
    caption: `Boundaries of the two, paired within ${within_m} m`,
    columns: [
      { field: "one_m", label: "The one's (m)", digits: 1 },
      { field: "other_m", label: "The other's (m)", digits: 1 },
      { field: "apart_m", label: "Apart (m)", digits: 1 },
    ],
    rows: rows.toSorted((a, b) => place(a) - place(b)),
  };
}

const basis = { ground: "resistivity", overlap: "shared length", name: "name" } as const;

function classesTable({ classPairs, matchedBy }: SegmentationAgreement) {
  return {
    id: "agreement-classes",
    caption: `Which class is which, by ${basis[matchedBy]}`,
    columns: [
      { field: "one", label: "The one's class" },
      { field: "other", label: "The other's class" },
      { field: "shared_m", label: "Length that both give it (m)", digits: 0 },
    ],
    rows: classPairs.map((pair) => ({ ...pair })),
  };
}
