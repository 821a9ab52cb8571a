import { addElement } from "./kernels/add-element.js";
import { addMultiples } from "./kernels/add-multiples.js";
import { productFunctions } from "./kernels/add-products.js";
import { bandFunctions } from "./kernels/factor-band.js";
import { layerDirections } from "./kernels/layer-directions.js";
import { rowProducts } from "./kernels/row-products.js";
import { scoreMembers } from "./kernels/score-members.js";
import { solvingFunctions } from "./kernels/solve-band.js";
import { PASS, subtractRows } from "./kernels/subtract-rows.js";
import { moduleBytes } from "./module-bytes.js";

export { TOGETHER } from "./kernels/score-members.js";

/** What the kernels do stands with each of them; numbers are addresses and sizes in bytes. */
interface Kernels {
  readonly factorBand: (lower: number, size: number, b: number) => number;
  readonly subtractRows: (...given: number[]) => void;
  readonly solveBandLower: (...given: number[]) => void;
  readonly solveBandUpper: (...given: number[]) => void;
  readonly addProductsInPairs: (...given: number[]) => void;
  readonly addProductsInTurn: (...given: number[]) => void;
  readonly addElement: (...given: number[]) => void;
  readonly addMultiples: (...given: number[]) => void;
  readonly scoreMembers: (...given: number[]) => void;
  readonly layerDirections: (...given: number[]) => void;
  readonly rowProducts: (...given: number[]) => void;
}

/** What Node has of WebAssembly and its types leave out. */
interface WebAssemblyScope {
  readonly Memory: new (size: { readonly initial: number }) => Memory;
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (module: object, imports: object) => { readonly exports: object };
}

interface Memory {
  readonly buffer: ArrayBuffer;
  readonly grow: (pages: number) => number;
}

const PAGE = 65_536;
const LINE = 64;

const { WebAssembly } = globalThis as unknown as { readonly WebAssembly: WebAssemblyScope };

const FUNCTIONS = [
  ...[...bandFunctions, subtractRows, ...solvingFunctions, ...productFunctions, addElement],
  ...[addMultiples, scoreMembers, layerDirections, rowProducts],
];

/**
 * Inner loops on pairs of doubles (WebAssembly's 128-bit vectors), with the memory that they work
 * in. Each result is rounded as the same sum in JavaScript would be, on every machine: there is no
 * fused multiplication. Source: WebAssembly Core Specification 2.0.
 */
class VectorKernels {
  readonly #memory = new WebAssembly.Memory({ initial: 1 });
  readonly run: Kernels;

  constructor() {
    const module = new WebAssembly.Module(moduleBytes(FUNCTIONS));
    const imports = { of: { memory: this.#memory } };
    this.run = new WebAssembly.Instance(module, imports).exports as Kernels;
  }

  /**
   * Columns of so many doubles in the kernels' memory; until the next call nothing else uses it.
   */
  columns(...lengths: readonly number[]): readonly Float64Array[] {
    let end = 0;
    const starts = lengths.map((length) => {
      const start = end;
      end = LINE * Math.ceil((start + 8 * length) / LINE);
      return start;
    });
    const missing = end - this.#memory.buffer.byteLength;
    if (missing > 0) this.#memory.grow(Math.ceil(missing / PAGE));
    const { buffer } = this.#memory;
    return lengths.map((length, i) => new Float64Array(buffer, starts[i], length));
  }
}

let made: VectorKernels | null = null;

/** The kernels of this thread. */
export function vectorKernels(): VectorKernels {
  made ??= new VectorKernels();
  return made;
}

/** Rows of n entries lie so many doubles apart for the kernels. */
export function passes(n: number): number {
  return PASS * Math.ceil(n / PASS);
}

/**
 * Puts rows of `from` entries each into rows of `to`; where there is room, the rest stays as it is.
 */
export function respaced(
  source: Float64Array,
  target: Float64Array,
  [from, to]: readonly [from: number, to: number],
): void {
  if (from === to) {
    target.set(source);
    return;
  }
  const width = Math.min(from, to);
  const rows = source.length / from;
  for (let row = 0; row < rows; row++) {
    target.set(source.subarray(row * from, row * from + width), row * to);
  }
}
