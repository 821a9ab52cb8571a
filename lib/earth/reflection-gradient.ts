import { rootReal } from "./coil-reflection.js";

/**
 * The reflection coefficient of a layered earth and its derivatives to the ln conductivity of every
 * layer, for one model and many wavenumbers.
 *
 * `climb` runs the recursion of `reflection` upward and keeps what it passes; `descend` runs down
 * with the product of the derivatives ∂R_j/∂R_{j+1}, so that all m derivatives cost about as much
 * as one more recursion. Interface j lies on top of layer j: ψ_j = (u_{j−1} − u_j)/(u_{j−1} + u_j),
 * ρ_j = R_{j+1} exp(−2 u_j t_j), R_j = (ψ_j + ρ_j)/(1 + ψ_j ρ_j), and r = R_0.
 */
export class ReflectionGradient {
  /** The coefficient at the wavenumber last climbed. */
  re = 0;
  im = 0;
  /** ∂r/∂ ln σ_j at the wavenumber last descended, for the layers that it sees. */
  readonly gradientRe: Float64Array;
  readonly gradientIm: Float64Array;
  private readonly k: Float64Array;
  private readonly uRe: Float64Array;
  private readonly uIm: Float64Array;
  private readonly psiRe: Float64Array;
  private readonly psiIm: Float64Array;
  private readonly rhoRe: Float64Array;
  private readonly rhoIm: Float64Array;
  private readonly fadeRe: Float64Array;
  private readonly fadeIm: Float64Array;
  private wavenumber = 0;

  constructor(private readonly thickness_m: Float64Array) {
    const column = () => new Float64Array(thickness_m.length + 1);
    this.gradientRe = column();
    this.gradientIm = column();
    this.k = column();
    this.uRe = column();
    this.uIm = column();
    this.psiRe = column();
    this.psiIm = column();
    this.rhoRe = column();
    this.rhoIm = column();
    this.fadeRe = column();
    this.fadeIm = column();
  }

  setInduction(conductivity: Float64Array, omegaMu: number): void {
    for (let j = 0; j < this.k.length; j++) this.k[j] = conductivity[j]! * omegaMu;
  }

  climb(wavenumber: number, deepest: number): void {
    const { k, uRe, uIm, psiRe, psiIm, rhoRe, rhoIm, fadeRe, fadeIm, thickness_m } = this;
    const square = wavenumber * wavenumber;
    this.wavenumber = wavenumber;
    let kBelow = k[deepest]!;
    let belowRe = rootReal(square, kBelow);
    let belowIm = kBelow / (2 * belowRe);
    let echoRe = 0;
    let echoIm = 0;
    fadeRe[deepest] = 0;
    fadeIm[deepest] = 0;
    for (let j = deepest; ; j--) {
      uRe[j] = belowRe;
      uIm[j] = belowIm;
      rhoRe[j] = echoRe;
      rhoIm[j] = echoIm;
      const kAbove = j > 0 ? k[j - 1]! : 0;
      const aboveRe = j > 0 ? rootReal(square, kAbove) : wavenumber;
      const aboveIm = kAbove / (2 * aboveRe);
      const sumRe = belowRe + aboveRe;
      const sumIm = belowIm + aboveIm;
      const size = sumRe * sumRe + sumIm * sumIm;
      const scale = (kAbove - kBelow) / (size * size);
      const pRe = 2 * scale * sumRe * sumIm;
      const pIm = scale * (sumRe * sumRe - sumIm * sumIm);
      psiRe[j] = pRe;
      psiIm[j] = pIm;
      const topRe = pRe + echoRe;
      const topIm = pIm + echoIm;
      const lowRe = 1 + pRe * echoRe - pIm * echoIm;
      const lowIm = pRe * echoIm + pIm * echoRe;
      const low = 1 / (lowRe * lowRe + lowIm * lowIm);
      const rRe = (topRe * lowRe + topIm * lowIm) * low;
      const rIm = (topIm * lowRe - topRe * lowIm) * low;
      if (j === 0) {
        this.re = rRe;
        this.im = rIm;
        return;
      }
      const t = 2 * thickness_m[j - 1]!;
      const size1 = Math.exp(-aboveRe * t);
      const fRe = size1 * Math.cos(aboveIm * t);
      const fIm = -size1 * Math.sin(aboveIm * t);
      fadeRe[j - 1] = fRe;
      fadeIm[j - 1] = fIm;
      echoRe = rRe * fRe - rIm * fIm;
      echoIm = rRe * fIm + rIm * fRe;
      kBelow = kAbove;
      belowRe = aboveRe;
      belowIm = aboveIm;
    }
  }

  descend(deepest: number): void {
    const { uRe, uIm, psiRe, psiIm, rhoRe, rhoIm, fadeRe, fadeIm, thickness_m } = this;
    const { gradientRe, gradientIm } = this;
    let chainRe = 1;
    let chainIm = 0;
    let aboveRe = this.wavenumber;
    let aboveIm = 0;
    for (let j = 0; j <= deepest; j++) {
      const pRe = psiRe[j]!;
      const pIm = psiIm[j]!;
      const eRe = rhoRe[j]!;
      const eIm = rhoIm[j]!;
      const hereRe = uRe[j]!;
      const hereIm = uIm[j]!;
      // chain / (1 + ψρ)², by which both ∂R/∂ψ = 1 − ρ² and ∂R/∂ρ = 1 − ψ² are multiplied.
      const lowRe = 1 + pRe * eRe - pIm * eIm;
      const lowIm = pRe * eIm + pIm * eRe;
      const lowSqRe = lowRe * lowRe - lowIm * lowIm;
      const lowSqIm = 2 * lowRe * lowIm;
      const low = 1 / (lowSqRe * lowSqRe + lowSqIm * lowSqIm);
      const headRe = (chainRe * lowSqRe + chainIm * lowSqIm) * low;
      const headIm = (chainIm * lowSqRe - chainRe * lowSqIm) * low;
      const byPsiRe = 1 - eRe * eRe + eIm * eIm;
      const byPsiIm = -2 * eRe * eIm;
      const psiPartRe = headRe * byPsiRe - headIm * byPsiIm;
      const psiPartIm = headRe * byPsiIm + headIm * byPsiRe;
      const byRhoRe = 1 - pRe * pRe + pIm * pIm;
      const byRhoIm = -2 * pRe * pIm;
      const rhoPartRe = headRe * byRhoRe - headIm * byRhoIm;
      const rhoPartIm = headRe * byRhoIm + headIm * byRhoRe;
      // ∂ψ/∂u = ∓2 u_other / (u_{j−1} + u_j)²; q = 2 psiPart / (u_{j−1} + u_j)².
      const sumRe = hereRe + aboveRe;
      const sumIm = hereIm + aboveIm;
      const sumSqRe = sumRe * sumRe - sumIm * sumIm;
      const sumSqIm = 2 * sumRe * sumIm;
      const sum = 2 / (sumSqRe * sumSqRe + sumSqIm * sumSqIm);
      const qRe = (psiPartRe * sumSqRe + psiPartIm * sumSqIm) * sum;
      const qIm = (psiPartIm * sumSqRe - psiPartRe * sumSqIm) * sum;
      if (j > 0) this.addByRoot(j - 1, qRe * hereRe - qIm * hereIm, qRe * hereIm + qIm * hereRe);
      const t = j < deepest ? 2 * thickness_m[j]! : 0;
      gradientRe[j] = 0;
      gradientIm[j] = 0;
      this.addByRoot(
        j,
        -(qRe * aboveRe - qIm * aboveIm) - t * (rhoPartRe * eRe - rhoPartIm * eIm),
        -(qRe * aboveIm + qIm * aboveRe) - t * (rhoPartRe * eIm + rhoPartIm * eRe),
      );
      chainRe = rhoPartRe * fadeRe[j]! - rhoPartIm * fadeIm[j]!;
      chainIm = rhoPartRe * fadeIm[j]! + rhoPartIm * fadeRe[j]!;
      aboveRe = hereRe;
      aboveIm = hereIm;
    }
  }

  /** Adds ∂r/∂u_j · ∂u_j/∂ln σ_j, the latter being i k / (2 u_j). */
  private addByRoot(j: number, byRe: number, byIm: number): void {
    const re = this.uRe[j]!;
    const im = this.uIm[j]!;
    const scale = this.k[j]! / (2 * (re * re + im * im));
    this.gradientRe[j]! += scale * (byRe * im - byIm * re);
    this.gradientIm[j]! += scale * (byRe * re + byIm * im);
  }
}
