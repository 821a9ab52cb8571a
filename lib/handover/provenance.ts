import { lineLinks } from "../chain/line-links.js";
import { type Link, resultsOf } from "../chain/link.js";
import { standardLinks } from "../chain/standard-links.js";
import type { Work } from "../chain/work.js";

/** What the findings were made from: the part that the library knows. */
export interface Provenance {
  readonly inputs: readonly {
    readonly path: string;
    readonly sha256: string;
    readonly bytes: number;
  }[];
  readonly decisions: readonly {
    readonly name: string;
    readonly value: unknown;
    readonly because: string;
    /** "tool" where the reason is still the one that the tool proposes. */
    readonly by: "author" | "tool";
    readonly alternatives: readonly unknown[];
  }[];
  /** Step → seed of its random draws. */
  readonly seeds: Readonly<Record<string, number>>;
  /** Every step in order with its options as resolved. */
  readonly steps: readonly {
    readonly step: string;
    readonly about: string;
    readonly used: Readonly<Record<string, unknown>>;
  }[];
}

export function provenanceOf(work: Work): Provenance {
  const others = work.otherLines?.value ?? [];
  const steps = [
    { step: work.survey.step, about: "", used: work.survey.used },
    ...stepsOf(standardLinks, work),
    ...others.flatMap((line) =>
      stepsOf(lineLinks, line.work as Work).map((step) => ({
        ...step,
        about: [line.line, step.about].filter((text) => text !== "").join(", "),
      })),
    ),
  ];
  const seeded = steps.flatMap(({ step, used }) =>
    typeof used.seed === "number" ? [[step, used.seed] as const] : [],
  );
  return {
    inputs: work.survey.value.inputs.map(({ path, sha256, bytes }) => ({ path, sha256, bytes })),
    decisions: work.decisions.map(({ name, value, because, alternatives, isProposal }) => ({
      name,
      value,
      because,
      by: isProposal ? "tool" : "author",
      alternatives,
    })),
    seeds: Object.fromEntries(seeded),
    steps,
  };
}

/** The steps of a work in order, each with what it was about. */
function stepsOf(links: readonly Link[], work: Work): Provenance["steps"] {
  return links
    .filter(({ isPick }) => !isPick)
    .flatMap((link) =>
      resultsOf(work, link).map((result) => ({
        step: result.step,
        about: link.about?.(result) ?? "",
        used: result.used,
      })),
    );
}
