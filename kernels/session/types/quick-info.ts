import type TypeScript from "typescript";

type Ts = typeof TypeScript;

interface Described {
  readonly symbolKind: TypeScript.ScriptElementKind;
  readonly displayParts: TypeScript.SymbolDisplayPart[];
  readonly documentation: TypeScript.SymbolDisplayPart[];
  readonly tags?: TypeScript.JSDocTagInfo[];
}

// Exported by the package, and left out of its declarations.
type Inner = Ts & {
  readonly SymbolDisplay: {
    getSymbolDisplayPartsDocumentationAndSymbolKind(
      checker: TypeScript.TypeChecker,
      symbol: TypeScript.Symbol,
      file: TypeScript.SourceFile,
      within: TypeScript.Node | undefined,
      at: TypeScript.Node,
    ): Described;
  };
  getTouchingPropertyName(file: TypeScript.SourceFile, position: number): TypeScript.Node;
  getContainerNode(node: TypeScript.Node): TypeScript.Node | undefined;
  getContainingObjectLiteralElement(
    node: TypeScript.Node,
  ): (TypeScript.Node & { readonly parent: TypeScript.Expression }) | undefined;
  getPropertySymbolsFromContextualType(
    element: TypeScript.Node,
    checker: TypeScript.TypeChecker,
    type: TypeScript.Type,
    unionOk: boolean,
  ): readonly TypeScript.Symbol[];
  typeToDisplayParts(
    checker: TypeScript.TypeChecker,
    type: TypeScript.Type,
    within: TypeScript.Node | undefined,
  ): TypeScript.SymbolDisplayPart[];
};

/** Signature and documentation of the name at a position, on a program that is there already. */
export function quickInfoAt(typescript: Ts) {
  const ts = typescript as Inner;
  return (
    file: TypeScript.SourceFile,
    checker: TypeScript.TypeChecker,
    _token: unknown,
    position: number,
  ): TypeScript.QuickInfo | undefined => {
    const touched = ts.getTouchingPropertyName(file, position);
    if (touched === file) return undefined;
    const node = describedNode(ts, touched);
    const symbol = symbolAt(ts, checker, node);
    const start = node.getStart(file);
    const textSpan = { start, length: node.end - start };
    const kindModifiers = "";
    const within = ts.getContainerNode(node);
    if (symbol === undefined || checker.isUnknownSymbol(symbol)) {
      if (!hasType(ts, node)) return undefined;
      const displayParts = ts.typeToDisplayParts(checker, checker.getTypeAtLocation(node), within);
      return { kind: ts.ScriptElementKind.unknown, kindModifiers, textSpan, displayParts };
    }
    const { symbolKind, ...described } =
      ts.SymbolDisplay.getSymbolDisplayPartsDocumentationAndSymbolKind(
        checker,
        symbol,
        file,
        within,
        node,
      );
    return { kind: symbolKind, kindModifiers, textSpan, ...described };
  };
}

// Of `new Gauge`, at the `new`, what is constructed.
function describedNode(ts: Inner, node: TypeScript.Node): TypeScript.Node {
  const { parent } = node;
  return ts.isNewExpression(parent) && node.pos === parent.pos ? parent.expression : node;
}

// An option of a literal is what its type says of it, with its documentation.
function symbolAt(
  ts: Inner,
  checker: TypeScript.TypeChecker,
  node: TypeScript.Node,
): TypeScript.Symbol | undefined {
  const element = ts.getContainingObjectLiteralElement(node);
  const type = element && checker.getContextualType(element.parent);
  if (element !== undefined && type !== undefined) {
    const found = ts.getPropertySymbolsFromContextualType(element, checker, type, false);
    if (found.length === 1) return found[0];
  }
  return checker.getSymbolAtLocation(node);
}

function hasType(ts: Inner, node: TypeScript.Node): boolean {
  return (
    ts.isIdentifier(node) ||
    ts.isPropertyAccessExpression(node) ||
    ts.isQualifiedName(node) ||
    node.kind === ts.SyntaxKind.ThisKeyword ||
    node.kind === ts.SyntaxKind.SuperKeyword
  );
}
