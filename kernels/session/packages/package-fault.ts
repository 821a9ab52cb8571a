/** A package that a cell asks for and that it cannot have. */
export class PackageFault extends Error {
  override readonly name = "PackageFault";
}
