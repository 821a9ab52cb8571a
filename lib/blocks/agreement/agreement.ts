/** A stretch with its class: a block, or a row of a second interpreter's table. */
export interface ClassedStretch {
  readonly from_m: number;
  readonly to_m: number;
  readonly class: string;
  /** Resistivity by depth slice, where it is known: what its class is. */
  readonly resistivity_ohm_m?: readonly {
    readonly top_m: number;
    readonly base_m: number;
    readonly median: number;
  }[];
}

/** A class of the one and the class of the other that is the same ground. */
export interface ClassPair {
  readonly one: string;
  readonly other: string;
  /** Length that both give this class, m. */
  readonly shared_m: number;
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
  /** How classes were told to be the same. */
  readonly matchedBy: "ground" | "overlap" | "name";
  readonly classPairs: readonly ClassPair[];
  /** Length that both have given a class, m. */
  readonly compared_m: number;
  /** Share of that length with the same class, as they were matched, %. */
  readonly sameClass_pct: number;
  /** Cohen's kappa by metre; NaN where both have one class, the same. */
  readonly kappa: number;
  /** 95 % interval of kappa. */
  readonly kappaInterval: readonly [number, number];
}
