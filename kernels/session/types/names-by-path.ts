import type TypeScript from "typescript";
import type { Ts } from "./typescript.js";

type TypeMaker = (
  node: TypeScript.Node,
  within: TypeScript.Node,
  flags: TypeScript.NodeBuilderFlags,
  ...rest: readonly unknown[]
) => TypeScript.Node | undefined;

const makers = [
  "createTypeOfDeclaration",
  "createReturnTypeOfSignatureDeclaration",
  "createTypeOfExpression",
] as const;

type Resolver = Record<(typeof makers)[number], TypeMaker>;

// Of the package, and left out of its declarations.
type Checker = TypeScript.TypeChecker & {
  getEmitResolver(...given: readonly unknown[]): Resolver;
};

/**
 * Has a cell's declarations name a type by its path where no import from the folder reaches it, as
 * that of a package within another one's folder: a library's declarations must not, for they travel.
 */
export function nameByPath(ts: Ts, program: TypeScript.Program): void {
  const checker = program.getTypeChecker() as Checker;
  const { getEmitResolver } = checker;
  checker.getEmitResolver = (...given) => {
    const resolver = getEmitResolver(...given);
    const changed = makers.map((name) => {
      const make: TypeMaker = (node, within, flags, ...rest) =>
        resolver[name](
          node,
          within,
          flags | ts.NodeBuilderFlags.AllowNodeModulesRelativePaths,
          ...rest,
        );
      return [name, make] as const;
    });
    return { ...resolver, ...Object.fromEntries(changed) };
  };
}
