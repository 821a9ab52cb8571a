/** Packages whose values the library takes or gives: they come with it, and its examples import them. */
const ownPackages = ["danfojs-node", "ml-matrix"];

/** Whether an import means a package that comes with this one, or a path within it. */
export function isOwnPackage(specifier: string): boolean {
  return ownPackages.some((name) => specifier === name || specifier.startsWith(`${name}/`));
}
