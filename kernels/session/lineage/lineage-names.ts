import type TypeScript from "typescript";
import type { Ts } from "../types/typescript.js";
import { changedByCall } from "./lineage-methods.js";
import { isAssignment, isOfTypes, isTransparent, picksOperand, rootOf } from "./lineage-nodes.js";
import { emptyUse, inner, isBound, type Place, scoped, type Use } from "./lineage-place.js";
import { declaredIn, namesOf } from "./lineage-scopes.js";
import { assignedTo } from "./lineage-targets.js";

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
    else if (isOfTypes(this.#ts, node)) return;
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
      const next = isTransparent(this.#ts, node) ? place : inner(place);
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

  #binary(
    { left, operatorToken: { kind }, right }: TypeScript.BinaryExpression,
    place: Place,
  ): void {
    const ts = this.#ts;
    const assigns = isAssignment(ts, kind);
    const operand = picksOperand(ts, kind) ? place : inner(place);
    if (assigns) this.#target(left, place);
    if (kind !== ts.SyntaxKind.EqualsToken) this.visit(left, assigns ? inner(place) : operand);
    this.visit(right, assigns ? place : operand);
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

  #target(node: TypeScript.Expression, place: Place): void {
    assignedTo(this.#ts, node, {
      assigned: ({ text }) => {
        if (!isBound(text, place.scope)) place.sink.writes.add(text);
      },
      read: (within) => this.visit(within, inner(place)),
    });
  }

  #call(node: TypeScript.CallExpression | TypeScript.NewExpression, place: Place): void {
    this.#callee(node.expression, place);
    const changed = changedByCall(this.#ts, node);
    const root = changed && rootOf(this.#ts, changed);
    if (root && !isBound(root.text, place.scope)) place.sink.changes.add(root.text);
    for (const argument of node.arguments ?? []) {
      this.visit(argument, { ...inner(place), isArgument: true });
    }
  }

  #callee(node: TypeScript.Expression, place: Place): void {
    const root = rootOf(this.#ts, node);
    if (root !== null && !isBound(root.text, place.scope)) {
      if (root === node) place.sink.calls.add(root.text);
      else place.sink.touches.add(root.text);
    }
    this.visit(node, inner(place));
  }
}
