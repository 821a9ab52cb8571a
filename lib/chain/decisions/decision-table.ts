import { type Decision, decidedText } from "../../step/decision.js";
import type { Table } from "../../step/figure.js";
import type { DecisionFinding } from "../findings.js";

/** A decision as the findings hold it. */
export function decisionFinding({ name, value, because, isProposal }: Decision): DecisionFinding {
  return { decision: name, value: decidedText(value), because, by: isProposal ? "tool" : "author" };
}

/** The decisions on the record, and whose their reasons are; no table without decisions. */
export function decisionTables(decisions: readonly Decision[]): readonly Table[] {
  if (decisions.length === 0) return [];
  const proposals = decisions.filter(({ isProposal }) => isProposal).length;
  const still =
    proposals === 0
      ? "every reason is the author's own"
      : `${proposals} of ${decisions.length} still with the reason that the tool proposes`;
  return [
    {
      id: "decisions",
      caption: `Decisions on the record: ${still}`,
      columns: [
        { field: "decision", label: "Decision" },
        { field: "value", label: "Decided" },
        { field: "by", label: "Reason by" },
        { field: "because", label: "Because" },
      ],
      rows: decisions.map((one) => ({ ...decisionFinding(one) })),
    },
  ];
}
