import { createRequire } from "node:module";

type Cephes = typeof import("cephes", { with: { "resolution-mode": "require" }});

/** Moshier's Cephes library, compiled as it loads: the module form of the package is not ready. */
export const cephes = createRequire(import.meta.url)("cephes") as Cephes;

/** A value of `cephes`, which throws where a term of its own underflows: the limit there. */
export function orLimit(value: () => number, limit: number): number {
  try {
    return value();
  } catch (error) {
    if (error instanceof Error && error.message.includes("underflow")) return limit;
    throw error;
  }
}
