/** An offset as the cause of a stretch's difference. */
export interface OffsetEvidence {
  /** Log evidence over no difference. */
  readonly evidence: number;
  /** By walk, m, or by channel, ppm. */
  readonly value: Float64Array;
}
