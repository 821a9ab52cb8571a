import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";
import { changedByCall } from "./lineage-methods.js";
import { declaredIn, namesOf } from "./lineage-scopes.js";

/** Top-level names as a piece of code uses them. */
export interface Use {
  readonly reads: Set<string>;
  /** Called or constructed by that very name; all of them are reads, too. */
  readonly calls: Set<string>;
  /** Asked for a method, or handed to a function that may call it; reads, too. */
  readonly touches: Set<string>;
  /** Assigned to, or with a property or an element that is assigned to. */
  readonly writes: Set<string>;
  /** Asked for a method that changes its own object (`push`, `sort`), or handed to one that does. */
  readonly changes: Set<string>;
}

export function emptyUse(): Use {
  return {
    reads: new Set(),
    calls: new Set(),
    touches: new Set(),
    writes: new Set(),
    changes: new Set(),
  };
}

export interface FreeNames {
  /** Used when the code runs. */
  readonly use: Use;
  /** Used when the functions are called that are the value of the code. */
  readonly later: Use;
  /** Variables of the whole cell that the code declares. */
  readonly variables: ReadonlySet<string>;
}

/** `defers`: functions in the place of the value are not run by the code itself. */
export function freeNames(
  ts: Ts,
  node: TypeScript.Node,
  { defers = false }: { readonly defers?: boolean } = {},
): FreeNames {
  const walk = new Walk(ts);
  walk.visit(node, { scope: null, sink: walk.use, isValue: defers, isArgument: false });
  return { use: walk.use, later: walk.later, variables: walk.variables };
}

interface Scope {
  readonly names: ReadonlySet<string>;
  readonly outer: Scope | null;
}

interface Place {
  /** Null at the top level of the cell. */
  readonly scope: Scope | null;
  readonly sink: Use;
  /** In the place of the value that is being named. */
  readonly isValue: boolean;
  /** Within an argument of a call. */
  readonly isArgument: boolean;
}

class Walk {
  readonly use = emptyUse();
  readonly later = emptyUse();
  readonly variables = new Set<string>();
  readonly #ts: Ts;

  constructor(ts: Ts) {
    this.#ts = ts;
  }

  visit(node: TypeScript.Node, place: Place): void {
    const ts = this.#ts;
    if (ts.isIdentifier(node)) this.#name(node, place);
    else if (this.#isOfTypes(node)) return;
    else if (ts.isFunctionLike(node)) this.#function(node, place);
    else if (ts.isClassLike(node)) this.#class(node, place);
    else if (ts.isVariableDeclaration(node)) this.#variable(node, place);
    else if (ts.isBinaryExpression(node)) this.#binary(node, place);
    else if (ts.isPrefixUnaryExpression(node) || ts.isPostfixUnaryExpression(node)) {
      this.#unary(node, place);
    } else if (ts.isDeleteExpression(node)) this.#target(node.expression, place);
    else if (ts.isForInStatement(node) || ts.isForOfStatement(node)) this.#loop(node, place);
    else if (ts.isCallExpression(node) || ts.isNewExpression(node)) this.#call(node, place);
    else if (ts.isTaggedTemplateExpression(node)) {
      this.#callee(node.tag, place);
      this.visit(node.template, inner(place));
    } else this.#children(node, place);
  }

  // The rest: what is neither a name nor binds one.
  #children(node: TypeScript.Node, place: Place): void {
    const ts = this.#ts;
    if (ts.isBreakOrContinueStatement(node) || ts.isMetaProperty(node)) return;
    if (ts.isPropertyAccessExpression(node)) this.visit(node.expression, inner(place));
    else if (ts.isLabeledStatement(node)) this.visit(node.statement, place);
    else if (ts.isModuleDeclaration(node)) this.#maybe(node.body, inner(place));
    else if (ts.isEnumDeclaration(node)) this.#enum(node, place);
    else if (ts.isShorthandPropertyAssignment(node)) {
      this.#name(node.name, place);
      this.#maybe(node.objectAssignmentInitializer, place);
    } else if (ts.isPropertyAssignment(node) || ts.isEnumMember(node)) {
      this.#key(node.name, place);
      this.#maybe(node.initializer, place);
    } else {
      const own = declaredIn(ts, node);
      const next = this.#isTransparent(node) ? place : inner(place);
      const within = own.size > 0 ? scoped(next, own) : next;
      ts.forEachChild(node, (child) => this.visit(child, within));
    }
  }

  #enum(node: TypeScript.EnumDeclaration, place: Place): void {
    const ts = this.#ts;
    const names = node.members.flatMap(({ name }) => (ts.isIdentifier(name) ? [name.text] : []));
    const within = scoped(inner(place), new Set(names));
    for (const member of node.members) this.visit(member, within);
  }

  // Nodes whose value is that of a child, or that hold their children's values.
  #isTransparent(node: TypeScript.Node): boolean {
    const ts = this.#ts;
    return (
      ts.isParenthesizedExpression(node) ||
      ts.isAsExpression(node) ||
      ts.isSatisfiesExpression(node) ||
      ts.isNonNullExpression(node) ||
      ts.isObjectLiteralExpression(node) ||
      ts.isArrayLiteralExpression(node) ||
      ts.isConditionalExpression(node)
    );
  }

  #isOfTypes(node: TypeScript.Node): boolean {
    const ts = this.#ts;
    if (ts.isExpressionWithTypeArguments(node)) return false;
    return (
      ts.isTypeNode(node) ||
      ts.isTypeParameterDeclaration(node) ||
      ts.isInterfaceDeclaration(node) ||
      ts.isTypeAliasDeclaration(node) ||
      ts.isImportDeclaration(node) ||
      ts.isExportDeclaration(node) ||
      (ts.isHeritageClause(node) && node.token === ts.SyntaxKind.ImplementsKeyword)
    );
  }

  #maybe(node: TypeScript.Node | undefined, place: Place): void {
    if (node !== undefined) this.visit(node, place);
  }

  #key(name: TypeScript.PropertyName | undefined, place: Place): void {
    if (name !== undefined && this.#ts.isComputedPropertyName(name)) {
      this.visit(name.expression, inner(place));
    }
  }

  #name({ text }: TypeScript.Identifier, { scope, sink, isArgument }: Place): void {
    if (isBound(text, scope)) return;
    sink.reads.add(text);
    if (isArgument) sink.touches.add(text);
  }

  #function(node: TypeScript.SignatureDeclaration, place: Place): void {
    const ts = this.#ts;
    this.#key(node.name as TypeScript.PropertyName | undefined, place);
    const { body } = node as TypeScript.FunctionLikeDeclaration;
    if (body === undefined) return;
    const names = new Set<string>(["arguments"]);
    // A declaration's own name is the top-level one.
    if (ts.isFunctionExpression(node) && node.name !== undefined) names.add(node.name.text);
    for (const parameter of node.parameters) namesOf(ts, parameter.name, names);
    for (const name of declaredIn(ts, node)) names.add(name);
    const sink = place.isValue ? this.later : place.sink;
    const within = scoped({ ...inner(place), sink }, names);
    for (const parameter of node.parameters) {
      this.#pattern(parameter.name, within);
      this.#maybe(parameter.initializer, within);
    }
    this.visit(body, within);
  }

  // Methods and the fields of instances wait for a call; all else runs with the class.
  #class(node: TypeScript.ClassLikeDeclaration, place: Place): void {
    const ts = this.#ts;
    const own = ts.isClassExpression(node) && node.name !== undefined ? [node.name.text] : [];
    const within = scoped(place, new Set(own));
    for (const clause of node.heritageClauses ?? []) this.visit(clause, inner(within));
    for (const member of node.members) {
      if (ts.isPropertyDeclaration(member)) {
        this.#key(member.name, within);
        const isStatic = ts
          .getModifiers(member)
          ?.some(({ kind }) => kind === ts.SyntaxKind.StaticKeyword);
        const sink = within.isValue && !isStatic ? this.later : within.sink;
        this.#maybe(member.initializer, { ...inner(within), sink });
      } else {
        this.visit(member, ts.isClassStaticBlockDeclaration(member) ? inner(within) : within);
      }
    }
  }

  #variable(node: TypeScript.VariableDeclaration, place: Place): void {
    for (const name of namesOf(this.#ts, node.name)) {
      if (!isBound(name, place.scope)) this.variables.add(name);
    }
    this.#pattern(node.name, inner(place));
    this.#maybe(node.initializer, place);
  }

  // Default values and computed keys of a pattern; the names in it are bound elsewhere.
  #pattern(name: TypeScript.BindingName, place: Place): void {
    const ts = this.#ts;
    if (ts.isIdentifier(name)) return;
    for (const element of name.elements) {
      if (ts.isOmittedExpression(element)) continue;
      this.#key(element.propertyName, place);
      this.#maybe(element.initializer, place);
      this.#pattern(element.name, place);
    }
  }

  #binary(node: TypeScript.BinaryExpression, place: Place): void {
    const ts = this.#ts;
    const { kind } = node.operatorToken;
    const assigns = kind >= ts.SyntaxKind.FirstAssignment && kind <= ts.SyntaxKind.LastAssignment;
    const picks = [
      ts.SyntaxKind.BarBarToken,
      ts.SyntaxKind.QuestionQuestionToken,
      ts.SyntaxKind.AmpersandAmpersandToken,
      ts.SyntaxKind.CommaToken,
    ];
    if (assigns) {
      this.#target(node.left, place);
      if (kind !== ts.SyntaxKind.EqualsToken) this.visit(node.left, inner(place));
    } else {
      this.visit(node.left, picks.includes(kind) ? place : inner(place));
    }
    this.visit(node.right, assigns || picks.includes(kind) ? place : inner(place));
  }

  #unary(
    node: TypeScript.PrefixUnaryExpression | TypeScript.PostfixUnaryExpression,
    place: Place,
  ): void {
    const { PlusPlusToken, MinusMinusToken } = this.#ts.SyntaxKind;
    const changes = node.operator === PlusPlusToken || node.operator === MinusMinusToken;
    if (changes) this.#target(node.operand, place);
    this.visit(node.operand, inner(place));
  }

  #loop(node: TypeScript.ForInStatement | TypeScript.ForOfStatement, place: Place): void {
    const own = declaredIn(this.#ts, node);
    const within = own.size > 0 ? scoped(inner(place), own) : inner(place);
    if (this.#ts.isVariableDeclarationList(node.initializer)) this.visit(node.initializer, within);
    else this.#target(node.initializer, within);
    this.visit(node.expression, within);
    this.visit(node.statement, within);
  }

  // What is assigned to: a name, a property or element of one, or a pattern of such.
  #target(node: TypeScript.Expression, place: Place): void {
    const ts = this.#ts;
    if (ts.isIdentifier(node)) {
      if (!isBound(node.text, place.scope)) place.sink.writes.add(node.text);
    } else if (ts.isArrayLiteralExpression(node)) {
      for (const element of node.elements) this.#target(element, place);
    } else if (ts.isObjectLiteralExpression(node)) {
      for (const property of node.properties) this.#targetProperty(property, place);
    } else if (ts.isSpreadElement(node) || ts.isParenthesizedExpression(node)) {
      this.#target(node.expression, place);
    } else if (ts.isNonNullExpression(node) || ts.isAsExpression(node)) {
      this.#target(node.expression, place);
    } else if (ts.isBinaryExpression(node)) {
      this.#target(node.left, place);
      this.visit(node.right, inner(place));
    } else {
      const root = this.#root(node);
      if (root !== null && !isBound(root.text, place.scope)) place.sink.writes.add(root.text);
      this.visit(node, inner(place));
    }
  }

  #targetProperty(property: TypeScript.ObjectLiteralElementLike, place: Place): void {
    const ts = this.#ts;
    if (ts.isShorthandPropertyAssignment(property)) {
      this.#target(property.name, place);
      this.#maybe(property.objectAssignmentInitializer, inner(place));
    } else if (ts.isPropertyAssignment(property)) {
      this.#key(property.name, place);
      this.#target(property.initializer, place);
    } else if (ts.isSpreadAssignment(property)) {
      this.#target(property.expression, place);
    }
  }

  #call(node: TypeScript.CallExpression | TypeScript.NewExpression, place: Place): void {
    this.#callee(node.expression, place);
    const changed = changedByCall(this.#ts, node);
    const root = changed && this.#root(changed);
    if (root && !isBound(root.text, place.scope)) place.sink.changes.add(root.text);
    for (const argument of node.arguments ?? []) {
      this.visit(argument, { ...inner(place), isArgument: true });
    }
  }

  #callee(node: TypeScript.Expression, place: Place): void {
    const root = this.#root(node);
    if (root !== null && !isBound(root.text, place.scope)) {
      if (root === node) place.sink.calls.add(root.text);
      else place.sink.touches.add(root.text);
    }
    this.visit(node, inner(place));
  }

  // `a` of `a`, `a.b`, `a[0].b!`.
  #root(node: TypeScript.Expression): TypeScript.Identifier | null {
    const ts = this.#ts;
    if (ts.isIdentifier(node)) return node;
    const goesOn =
      ts.isPropertyAccessExpression(node) ||
      ts.isElementAccessExpression(node) ||
      ts.isNonNullExpression(node) ||
      ts.isParenthesizedExpression(node) ||
      ts.isAsExpression(node);
    return goesOn ? this.#root(node.expression) : null;
  }
}

function inner(place: Place): Place {
  return place.isValue || place.isArgument
    ? { ...place, isValue: false, isArgument: false }
    : place;
}

function scoped(place: Place, names: ReadonlySet<string>): Place {
  return { ...place, scope: { names, outer: place.scope } };
}

function isBound(name: string, scope: Scope | null): boolean {
  for (let at = scope; at !== null; at = at.outer) if (at.names.has(name)) return true;
  return false;
}
