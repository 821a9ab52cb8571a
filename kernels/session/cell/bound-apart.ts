import type TypeScript from "typescript";
import { declaredIn, namesOf } from "../lineage/lineage-scopes.js";
import type { Ts } from "../types/typescript.js";
import { letOf, sessionGlobal } from "./made-nodes.js";
import { marked } from "./marked-names.js";

type Names = ReadonlySet<string>;

/**
 * Gives these top-level names, which are also names of globals, bindings of their own:
 * `class Map {}` → `let Map' = class Map {}`, and every use of it in the cell. Names bound within a
 * function or a block stay; functions and classes keep the `name` that the cell gives them.
 */
export function bindApart(
  ts: Ts,
  context: TypeScript.TransformationContext,
  statements: readonly TypeScript.Statement[],
  names: Names,
): readonly TypeScript.Statement[] {
  if (names.size === 0) return statements;
  const renaming = new Renaming(ts, context);
  return statements.map((one) => renaming.visit(renaming.topLevel(one), names));
}

class Renaming {
  readonly #ts: Ts;
  readonly #context: TypeScript.TransformationContext;

  constructor(ts: Ts, context: TypeScript.TransformationContext) {
    this.#ts = ts;
    this.#context = context;
  }

  /** A class at the top level as a variable, whose name is no longer that of the class. */
  topLevel(statement: TypeScript.Statement): TypeScript.Statement {
    const ts = this.#ts;
    const { factory } = this.#context;
    if (!ts.isClassDeclaration(statement) || statement.name === undefined) return statement;
    const { name, typeParameters, heritageClauses, members } = statement;
    const made = factory.createClassExpression(
      ts.getModifiers(statement),
      name,
      typeParameters,
      heritageClauses,
      members,
    );
    const value = ts.setTextRange(ts.setOriginalNode(made, statement), statement);
    const declaration = factory.createVariableDeclaration(name, undefined, undefined, value);
    return ts.setTextRange(letOf(ts, factory, [declaration]), statement);
  }

  visit<Kind extends TypeScript.Node>(node: Kind, names: Names): Kind;
  visit(node: TypeScript.Node, names: Names): TypeScript.Node {
    const ts = this.#ts;
    if (names.size === 0) return node;
    if (ts.isIdentifier(node)) return this.#identifier(node, names);
    const within = without(names, this.#bound(node));
    if (ts.isShorthandPropertyAssignment(node)) return this.#shorthand(node, within);
    const inner = ts.visitEachChild(
      node,
      (child) => {
        if (this.#isKey(node, child)) return child;
        return this.visit(child, ts.isComputedPropertyName(child) ? names : within);
      },
      this.#context,
    );
    return this.#named(this.#keyed(inner, node, names), node, names);
  }

  #identifier(node: TypeScript.Identifier, names: Names): TypeScript.Identifier {
    if (!names.has(node.text)) return node;
    const made = this.#context.factory.createIdentifier(marked(node.text));
    return this.#ts.setTextRange(this.#ts.setOriginalNode(made, node), node);
  }

  // Names that the node binds for what is within it.
  #bound(node: TypeScript.Node): Names {
    const ts = this.#ts;
    const names = declaredIn(ts, node);
    if (ts.isFunctionLike(node)) {
      for (const parameter of node.parameters) namesOf(ts, parameter.name, names);
    }
    const ownName = ts.isFunctionExpression(node) || ts.isClassLike(node) ? node.name : undefined;
    return ownName === undefined ? names : names.add(ownName.text);
  }

  // Names of properties and labels, and a function's or class's own name.
  #isKey(node: TypeScript.Node, child: TypeScript.Node): boolean {
    const ts = this.#ts;
    if (!ts.isIdentifier(child)) return false;
    if (ts.isBindingElement(node)) return child === node.propertyName;
    if (ts.isLabeledStatement(node) || ts.isBreakOrContinueStatement(node)) {
      return child === node.label;
    }
    if (isSessions(ts, node, child)) return true;
    const isBinding = ts.isVariableDeclaration(node) || ts.isParameter(node);
    return !isBinding && (node as { readonly name?: TypeScript.Node }).name === child;
  }

  // `{ Map }` → `{ Map: Map' }`
  #shorthand(node: TypeScript.ShorthandPropertyAssignment, names: Names): TypeScript.Node {
    const { factory } = this.#context;
    const { name, objectAssignmentInitializer: fallback } = node;
    const value = fallback && this.#nameKept(name, this.visit(fallback, names), names);
    if (!names.has(name.text)) {
      return factory.updateShorthandPropertyAssignment(node, name, value);
    }
    const target = this.#identifier(name, names);
    const given = value === undefined ? target : factory.createAssignment(target, value);
    return this.#ts.setTextRange(factory.createPropertyAssignment(name.text, given), node);
  }

  // `let { Map } = …` → `let { Map: Map' } = …`
  #keyed(made: TypeScript.Node, node: TypeScript.Node, names: Names): TypeScript.Node {
    const ts = this.#ts;
    if (!ts.isBindingElement(node) || !ts.isBindingElement(made)) return made;
    const { name, propertyName, dotDotDotToken } = node;
    const needsKey =
      propertyName === undefined &&
      dotDotDotToken === undefined &&
      ts.isIdentifier(name) &&
      names.has(name.text) &&
      ts.isObjectBindingPattern(node.parent ?? ts.getOriginalNode(node).parent);
    if (!needsKey) return made;
    const { factory } = this.#context;
    return factory.updateBindingElement(
      made,
      undefined,
      factory.createIdentifier(name.text),
      made.name,
      made.initializer,
    );
  }

  // A function or class without a name gets that of what it is bound to, as the cell wrote it.
  #named(made: TypeScript.Node, node: TypeScript.Node, names: Names): TypeScript.Node {
    const ts = this.#ts;
    const { factory } = this.#context;
    if (ts.isVariableDeclaration(made) && ts.isVariableDeclaration(node)) {
      const value = made.initializer && this.#nameKept(node.name, made.initializer, names);
      return factory.updateVariableDeclaration(made, made.name, undefined, undefined, value);
    }
    if (ts.isBindingElement(made) && ts.isBindingElement(node)) {
      const { dotDotDotToken, propertyName, name } = made;
      const value = made.initializer && this.#nameKept(node.name, made.initializer, names);
      return factory.updateBindingElement(made, dotDotDotToken, propertyName, name, value);
    }
    if (ts.isBinaryExpression(made) && ts.isBinaryExpression(node)) {
      const { kind } = made.operatorToken;
      if (kind < ts.SyntaxKind.FirstAssignment || kind > ts.SyntaxKind.LastAssignment) return made;
      const value = this.#nameKept(node.left, made.right, names);
      return factory.updateBinaryExpression(made, made.left, made.operatorToken, value);
    }
    return made;
  }

  // `function () {}` → `({ ["Map"]: function () {} })["Map"]`
  #nameKept(target: TypeScript.Node, value: TypeScript.Expression, names: Names) {
    const ts = this.#ts;
    const isNameless =
      ts.isArrowFunction(value) ||
      ((ts.isFunctionExpression(value) || ts.isClassExpression(value)) && value.name === undefined);
    if (!ts.isIdentifier(target) || !names.has(target.text) || !isNameless) return value;
    const { factory } = this.#context;
    const text = () => factory.createStringLiteral(target.text);
    const key = factory.createComputedPropertyName(text());
    const holder = factory.createObjectLiteralExpression([
      factory.createPropertyAssignment(key, value),
    ]);
    return factory.createElementAccessExpression(
      factory.createParenthesizedExpression(holder),
      text(),
    );
  }
}

// `__banquette.wait`, which the session itself put into the cell.
function isSessions(ts: Ts, node: TypeScript.Node, child: TypeScript.Identifier): boolean {
  return ts.isPropertyAccessExpression(node) && child.text === sessionGlobal && child.pos < 0;
}

function without(names: Names, bound: Names): Names {
  if (![...bound].some((name) => names.has(name))) return names;
  return new Set([...names].filter((name) => !bound.has(name)));
}
