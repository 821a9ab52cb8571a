import { type StretchesPanel, stripSpec } from "../../figures/strip/strip.js";
import { greys } from "../../figures/theme.js";
import type { Figure } from "../../step/figure.js";
import { countText } from "../../step/show/html.js";
import { classColoursOf } from "../classes/class-colours.js";
import type { ClassedStretch, SegmentationAgreement } from "./agreement.js";

type Cut = readonly ClassedStretch[];

/** The two cuts one above the other; classes that are the same have one colour. */
export function agreementFigure(
  agreement: SegmentationAgreement,
  [one, other]: readonly [Cut, Cut],
): Figure {
  const title = agreementSentence(agreement);
  const colours = classColoursOf(one);
  const nameOf = new Map(agreement.classPairs.map((pair) => [pair.other, pair.one]));
  const panels = [
    panelOf("The one", one, { colours, groupOf: (name) => name }),
    panelOf("The other", other, { colours, groupOf: (name) => nameOf.get(name) ?? UNPAIRED }),
  ];
  return {
    id: "agreement",
    title,
    caption:
      "Two cuts of one line. One colour is one class, as they were matched; letters are each cut's " +
      "own. Grey is a class that the one does not have.",
    spec: stripSpec({ title, panels }),
  };
}

const UNPAIRED = "not in the one";

interface Colouring {
  readonly colours: Readonly<Record<string, string>>;
  readonly groupOf: (name: string) => string;
}

function panelOf(label: string, cut: Cut, { colours, groupOf }: Colouring): StretchesPanel {
  return {
    kind: "stretches",
    label,
    legend: "Class of the one",
    colours: { ...colours, [UNPAIRED]: greys.rule },
    stretches: cut.map((stretch) => ({
      ...{ from_m: stretch.from_m, to_m: stretch.to_m, text: stretch.class },
      group: groupOf(stretch.class),
    })),
  };
}

/** What the two agree in. */
export function agreementSentence(agreement: SegmentationAgreement): string {
  const { matched, oneBoundaries, otherBoundaries, sameClass_pct, kappa } = agreement;
  const beyond = Number.isNaN(kappa) ? "" : `, kappa ${kappa.toFixed(2)}`;
  return (
    `${countText(matched.length, "boundary agrees", "boundaries agree")}, of ${oneBoundaries} and ${otherBoundaries}; classes agree ` +
    `on ${sameClass_pct.toFixed(0)} % of the length${beyond}`
  );
}
