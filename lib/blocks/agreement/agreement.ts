/** A stretch with its class: a block, or a row of a second interpreter's table. */
export interface ClassedStretch {
  readonly from_m: number;
  readonly to_m: number;
  readonly class: string;
}

/** How far two segmentations of a line agree, as `compareSegmentations` hands it on. */
export interface SegmentationAgreement {
  readonly within_m: number;
  /** Boundaries of the one and of the other, in the stretch that both cover. */
  readonly oneBoundaries: number;
  readonly otherBoundaries: number;
  /** Pairs within the distance, each boundary in one pair at most. */
  readonly matched: readonly { readonly one_m: number; readonly other_m: number }[];
  readonly onlyOne_m: readonly number[];
  readonly onlyOther_m: readonly number[];
  /** Share of the other's boundaries that the one has too; 1 where the other has none. */
  readonly recall: number;
  /** Share of the one's boundaries that the other has too; 1 where the one has none. */
  readonly precision: number;
  /** Harmonic mean of the two. */
  readonly f: number;
  /** Length that both have given a class, m. */
  readonly compared_m: number;
  /** Share of that length with the same class, %. */
  readonly sameClass_pct: number;
  /** Cohen's kappa by metre; NaN where both have one class only. */
  readonly kappa: number;
  /** 95 % interval of kappa. */
  readonly kappaInterval: readonly [number, number];
}
