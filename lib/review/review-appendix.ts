import type { ClassedStretch, SegmentationAgreement } from "../blocks/agreement/agreement.js";
import { compareSegmentations } from "../blocks/agreement/compare-segmentations.js";
import type { Findings } from "../chain/findings.js";
import { ofMainLine } from "../chain/front/places.js";
import { compareClaims } from "./claims/compare-claims.js";
import { compareCells } from "./compare-cells.js";
import { type AppendixFiles, compareFiles } from "./compare-files.js";
import {
  codeDifferences,
  inputDifferences,
  placeDifferences,
  recordDifferences,
  type StoredProvenance,
  type VersionsOfRun,
  versionDifferences,
} from "./compare-provenance.js";
import { type ExecutedCell, executedCells } from "./executed-notebook.js";
import type { Review } from "./review.js";
import type { ReviewSheet } from "./sheet/sheet.js";

/** An appendix as it is stored, and what executing it again gave. */
export interface ReviewedAppendix {
  readonly stored: AppendixFiles;
  /** What its code gives now; null where it could not be executed again. */
  readonly again: AppendixFiles | null;
  /** Why it could not; null where it could. */
  readonly failed: string | null;
  /** sha-256 of each input file as it is now. */
  readonly inputsNow: ReadonlyMap<string, string>;
  readonly versionsNow: VersionsOfRun;
  /** What the order in which the stored cells ran is amiss. */
  readonly order: readonly string[];
  /** A second interpreter's blocks; null where there are none. */
  readonly secondBlocks: readonly ClassedStretch[] | null;
  /** A reviewer's sheet as read; default null. */
  readonly sheet?: ReviewSheet | null;
  /** Findings of another appendix to set beside; default null. */
  readonly beside?: Findings | null;
}

/** Below this share numbers are those of another machine's last digits, not other numbers. */
export const reviewTolerance = 1e-6;

/**
 * Compares a stored appendix with what executing it again gave: input files and code by hash,
 * versions by name, outputs of cells and files as values (numbers within `tolerance`, a share of
 * the greater), figures by their data. A drawing is not told beside its data.
 *
 * @param appendix both, as files by name; see `ReviewedAppendix`.
 * @param options what may be said beside
 * @param options.tolerance default 1e-6.
 * @returns every difference by kind. Disagreement with a second interpreter is none.
 * @throws SyntaxError where the stored notebook or provenance is no JSON.
 */
export function reviewAppendix(
  appendix: ReviewedAppendix,
  { tolerance = reviewTolerance }: { readonly tolerance?: number } = {},
): Review {
  const { stored, again, failed, inputsNow } = appendix;
  const provenance = provenanceIn(stored);
  const cells = cellsIn(stored);
  const outputs = again === null ? noOutputs : outputsCompared({ stored, again }, cells, tolerance);
  const differences = {
    inputs: inputDifferences(provenance, inputsNow),
    versions: versionDifferences(provenance, appendix.versionsNow),
    code: codeDifferences(provenance, cells),
    order: [...appendix.order, ...placeDifferences(provenance, cells)],
    cells: outputs.cells,
    figures: outputs.figures,
    numbers: outputs.numbers,
    files: outputs.files,
  };
  return {
    agrees: failed === null && Object.values(differences).every((list) => list.length === 0),
    tolerance,
    failed,
    ...differences,
    compared: {
      inputs: inputsNow.size,
      cells: cells.length,
      figures: outputs.figureCount,
      files: again?.size ?? 0,
    },
    secondInterpreter: agreementWith(appendix),
    sheet: appendix.sheet ?? null,
    beside: appendix.beside ? compareClaims(findingsIn(stored), appendix.beside) : null,
  };
}

const noOutputs = { cells: [], figures: [], numbers: [], files: [], figureCount: 0 } as const;

interface Both {
  readonly stored: AppendixFiles;
  readonly again: AppendixFiles;
}

function outputsCompared(
  { stored, again }: Both,
  cells: readonly ExecutedCell[],
  tolerance: number,
) {
  const file = "appendix.ipynb";
  const shown = compareCells(cells, cellsIn(again), { tolerance, file });
  const { numbers, figures, files } = compareFiles(stored, again, tolerance);
  const record = recordDifferences(provenanceIn(stored), provenanceIn(again), tolerance);
  return {
    cells: shown.cells,
    figures: [...shown.figures, ...figures],
    numbers: [...numbers, ...record],
    files,
    figureCount: shown.figureCount,
  };
}

function agreementWith({ stored, secondBlocks }: ReviewedAppendix): SegmentationAgreement | null {
  if (secondBlocks === null) return null;
  // Where several lines were walked, the main one stands first.
  const main = ofMainLine(findingsIn(stored).blocks);
  return compareSegmentations(main, secondBlocks).value;
}

/** The content of an appendix' findings.json. */
export function findingsIn(files: AppendixFiles): Findings {
  return JSON.parse(textIn(files, "findings.json")) as Findings;
}

function cellsIn(files: AppendixFiles): readonly ExecutedCell[] {
  return executedCells(textIn(files, "appendix.ipynb"));
}

function provenanceIn(files: AppendixFiles): StoredProvenance {
  return JSON.parse(textIn(files, "provenance.json")) as StoredProvenance;
}

function textIn(files: AppendixFiles, name: string): string {
  return new TextDecoder().decode(files.get(name));
}
