/** A file as a logger wrote it. */
export interface RawFile {
  /** Without its folder. */
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly sha256: string;
}
