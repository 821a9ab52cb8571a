import { gaussLegendre } from "../../numerics/functions/gauss-legendre.js";

/** Integrals over a cell whose base slopes against its top; 9 × 9, per conductivity. */
export interface CellIntegrals {
  /** Of ∇φ·∇ψ. */
  readonly gradients: Float64Array;
  /** Of φψ, by Simpson's rule. */
  readonly values: Float64Array;
}

/** A cell of water between two columns. */
export interface WaterCell {
  readonly width: number;
  /** Depth of the water at its left and at its right side. */
  readonly depth: readonly [number, number];
  /** Its top and its base, as shares of the depth. */
  readonly shares: readonly [number, number];
}

const RULE = gaussLegendre(5);
const SIMPSON = [1 / 6, 4 / 6, 1 / 6] as const;

/** Quadratic shape functions of the nodes 0, 1/2, 1 and their derivatives. */
function shapeAt(t: number) {
  const value = [(1 - t) * (1 - 2 * t), 4 * t * (1 - t), t * (2 * t - 1)] as const;
  return { value, slope: [4 * t - 3, 4 - 8 * t, 4 * t - 1] as const };
}

/**
 * With x = width ξ and y = depth(ξ) (top + η Δ) the cell is a square in ξ and η, and
 * ∂/∂x = (∂ξ − (∂y/∂ξ)/h ∂η)/width, ∂/∂y = ∂η/h with h = depth(ξ) Δ.
 */
export function waterIntegrals({ width, depth, shares }: WaterCell): CellIntegrals {
  const [left, right] = depth;
  const [top, base] = shares;
  const gradients = new Float64Array(81);
  const nodes = Array.from(RULE.node, (node) => (1 + node) / 2);
  nodes.forEach((xi, i) => {
    const along = shapeAt(xi);
    const here = left + (right - left) * xi;
    const h = here * (base - top);
    nodes.forEach((eta, j) => {
      const down = shapeAt(eta);
      const lean = ((right - left) * (top + eta * (base - top))) / h;
      const weight = (RULE.weight[i]! * RULE.weight[j]!) / 4;
      addGradients(gradients, { along, down, lean, width, h, weight });
    });
  });
  const values = new Float64Array(81);
  for (let p = 0; p < 9; p++) {
    const column = Math.floor(p / 3);
    const h = (left + ((right - left) * column) / 2) * (base - top);
    values[10 * p] = SIMPSON[column]! * SIMPSON[p % 3]! * width * h;
  }
  return { gradients, values };
}

interface GradientPoint {
  readonly along: ReturnType<typeof shapeAt>;
  readonly down: ReturnType<typeof shapeAt>;
  readonly lean: number;
  readonly width: number;
  readonly h: number;
  readonly weight: number;
}

function addGradients(sum: Float64Array, point: GradientPoint): void {
  const { along, down, lean, width, h, weight } = point;
  const byX = new Float64Array(9);
  const byY = new Float64Array(9);
  for (let p = 0; p < 9; p++) {
    const [i, j] = [Math.floor(p / 3), p % 3];
    const byEta = along.value[i]! * down.slope[j]!;
    byX[p] = (along.slope[i]! * down.value[j]! - lean * byEta) / width;
    byY[p] = byEta / h;
  }
  for (let p = 0; p < 9; p++) {
    for (let q = 0; q < 9; q++) {
      const product = byX[p]! * byX[q]! + byY[p]! * byY[q]!;
      sum[9 * p + q] = sum[9 * p + q]! + weight * width * h * product;
    }
  }
}
