import { deepestSeen } from "./coil-reflection.js";

/**
 * The reflection coefficient of a layered earth at many wavenumbers, and its derivatives to the ln
 * conductivity and the thickness of every layer: one geometry, many models.
 *
 * With v_j = u_j/λ, ψ_j = (v_{j−1} − v_j)/(v_{j−1} + v_j) at the top of layer j and
 * E_j = exp(−2λ t_j v_j), the recursion of `reflection` is run on numerator and denominator apart,
 * N_j = ψ_j D_{j+1} + E_j N_{j+1} and D_j = D_{j+1} + ψ_j E_j N_{j+1}, so that one division of the
 * last pair is left. Back down, ∂r/∂N and ∂r/∂D are carried along: all derivatives cost about as
 * much as the value. exp(−2λt) is made once; what is left of E_j is near 1 where induction is weak
 * and summed from its power series there, as v_j is.
 *
 * Complex values lie in pairs, real part first. The work of a wavenumber is one flat array with a
 * row for the air, for each layer and for what lies below: that is what keeps the inner loops as
 * fast as compiled ones.
 */
export class ReflectionGradient {
  readonly layers: number;
  /** r at p wavenumbers, p pairs. */
  readonly value: Float64Array;
  /** ∂r/∂ ln σ, m rows of p pairs; row j is known for the first `seeing[j]` wavenumbers. */
  readonly byLog: Float64Array;
  /** ∂r/∂t, 1/m, m − 1 rows of p pairs; row j is known for the first `seeingBelow[j]`. */
  readonly byThickness: Float64Array;
  /** For each layer how many wavenumbers, from the smallest up, reach it, and reach its base. */
  readonly seeing: Int32Array;
  readonly seeingBelow: Int32Array;
  private readonly points: number;
  private readonly deepest: Int32Array;
  /** For each wavenumber and layer the pair e^(−2λt), 2λt; for each wavenumber λ^−2. */
  private readonly fold: Float64Array;
  private readonly inverseSquare: Float64Array;
  private readonly conductivity: Float64Array;
  private readonly work: Float64Array;
  /** Whether N and D are kept in range: many layers of strong contrast would lose them. */
  private readonly scaled: boolean;
  private omegaMu = 0;

  /** Rising wavenumbers, 1/m; layers below e^(−foldings), there and back, are left out. */
  constructor(
    thickness_m: Float64Array,
    private readonly wavenumber_per_m: Float64Array,
    foldings: number,
  ) {
    const m = thickness_m.length + 1;
    const p = wavenumber_per_m.length;
    this.layers = m;
    this.points = p;
    this.scaled = m > FEW;
    this.fold = foldsOf(wavenumber_per_m, thickness_m);
    this.inverseSquare = wavenumber_per_m.map((wavenumber) => 1 / (wavenumber * wavenumber));
    this.deepest = Int32Array.from(wavenumber_per_m, (wavenumber) =>
      deepestSeen(thickness_m, wavenumber, foldings),
    );
    // The larger the wavenumber, the fewer layers it sees.
    this.seeing = new Int32Array(m);
    let last = p - 1;
    for (let j = 0; j < m; j++) {
      while (last >= 0 && this.deepest[last]! < j) last--;
      this.seeing[j] = last + 1;
    }
    this.seeingBelow = this.seeing.slice(1);
    this.value = new Float64Array(2 * p);
    this.byLog = new Float64Array(2 * m * p);
    this.byThickness = new Float64Array(2 * (m - 1) * p);
    this.conductivity = new Float64Array(m);
    this.work = new Float64Array((m + 2) * ROW);
    this.work[V] = 1;
  }

  /** Sets the model, S/m, and the frequency as ωμ₀. */
  setModel(conductivity_S_per_m: Float64Array, omegaMu: number): void {
    this.conductivity.set(conductivity_S_per_m);
    this.omegaMu = omegaMu;
  }

  /** Fills `value`, and `byLog`, and `byThickness`, as far as asked for. */
  evaluate(derivatives: "none" | "by log" | "all"): void {
    for (let point = 0; point < this.points; point++) {
      this.layerTerms(point);
      this.climb(point);
      if (derivatives === "none") continue;
      this.adjoin(point);
      this.differentiate(point, derivatives === "all");
    }
  }

  /** Layer by layer v and E, which need no neighbour. */
  private layerTerms(point: number): void {
    const { conductivity, fold, work } = this;
    const scale = this.omegaMu * this.inverseSquare[point]!;
    const deepest = this.deepest[point]!;
    let to = ROW;
    let at = 2 * point * this.layers;
    for (let j = 0; j <= deepest; j++, to += ROW, at += 2) {
      const k = conductivity[j]! * scale;
      const k2 = k * k;
      let more = k2 * (1 / 8 - k2 * (5 / 128 - k2 * (21 / 1024)));
      let im = k * (1 / 2 - k2 * (1 / 16 - k2 * (7 / 256)));
      if (!(k < WEAK)) {
        const re = Math.sqrt(0.5 + 0.5 * Math.sqrt(1 + k2));
        more = re - 1;
        im = k / (2 * re);
      }
      work[to + KAPPA] = k;
      work[to + V] = 1 + more;
      work[to + V + 1] = im;
      const a = fold[at + 1]! * more;
      const b = fold[at + 1]! * im;
      if (a < NEAR_A && b < NEAR_B) {
        const b2 = b * b;
        const size = fold[at]! * (1 - a * (1 - a * (C2 - a * (C3 - a * (C4 - a * C5)))));
        work[to + E] = size * (1 - b2 * (C2 - b2 * (C4 - b2 * (C6 - b2 * C8))));
        work[to + E + 1] = -size * b * (1 - b2 * (C3 - b2 * (C5 - b2 * C7)));
      } else if (a < FAR && b < FAR) {
        const b2 = b * b;
        const tail = C6 - a * (C7 - a * (C8 - a * (C9 - a * C10)));
        const size =
          fold[at]! * (1 - a * (1 - a * (C2 - a * (C3 - a * (C4 - a * (C5 - a * tail))))));
        const cosine = C2 - b2 * (C4 - b2 * (C6 - b2 * (C8 - b2 * C10)));
        const sine = C3 - b2 * (C5 - b2 * (C7 - b2 * (C9 - b2 * C11)));
        work[to + E] = size * (1 - b2 * cosine);
        work[to + E + 1] = -size * b * (1 - b2 * sine);
      } else {
        const size = fold[at]! * Math.exp(-a);
        work[to + E] = size * Math.cos(b);
        work[to + E + 1] = -size * Math.sin(b);
      }
    }
  }

  /** From the deepest layer up: N and D, and r at the top. */
  private climb(point: number): void {
    const { work, scaled } = this;
    let echoRe = 0;
    let echoIm = 0;
    let dRe = 1;
    let dIm = 0;
    let nRe = 0;
    let nIm = 0;
    for (let at = (this.deepest[point]! + 1) * ROW; at > 0; at -= ROW) {
      const above = at - ROW;
      const sRe = work[at + V]! + work[above + V]!;
      const sIm = work[at + V + 1]! + work[above + V + 1]!;
      const inverse = 1 / (sRe * sRe + sIm * sIm);
      const cRe = sRe * inverse;
      const cIm = sIm * inverse;
      const wRe = cRe * cRe - cIm * cIm;
      const wIm = -2 * cRe * cIm;
      const contrast = work[above + KAPPA]! - work[at + KAPPA]!;
      const psiRe = -contrast * wIm;
      const psiIm = contrast * wRe;
      work[at + W] = wRe;
      work[at + W + 1] = wIm;
      work[at + ECHO] = echoRe;
      work[at + ECHO + 1] = echoIm;
      work[at + BELOW] = dRe;
      work[at + BELOW + 1] = dIm;
      nRe = psiRe * dRe - psiIm * dIm + echoRe;
      nIm = psiRe * dIm + psiIm * dRe + echoIm;
      dRe += psiRe * echoRe - psiIm * echoIm;
      dIm += psiRe * echoIm + psiIm * echoRe;
      if (scaled) {
        const scale = scaleOf(dRe * dRe + dIm * dIm);
        work[at + SCALE] = scale;
        nRe *= scale;
        nIm *= scale;
        dRe *= scale;
        dIm *= scale;
      }
      const eRe = work[above + E]!;
      const eIm = work[above + E + 1]!;
      echoRe = nRe * eRe - nIm * eIm;
      echoIm = nRe * eIm + nIm * eRe;
    }
    this.setValue(point, [nRe, nIm], [dRe, dIm]);
  }

  /** r = N / D, and 1 / D in the air's row. */
  private setValue(
    point: number,
    [nRe, nIm]: readonly [number, number],
    [dRe, dIm]: readonly [number, number],
  ): void {
    const { work, value } = this;
    const size = 1 / (dRe * dRe + dIm * dIm);
    work[BELOW] = dRe * size;
    work[BELOW + 1] = -dIm * size;
    value[2 * point] = (nRe * dRe + nIm * dIm) * size;
    value[2 * point + 1] = (nIm * dRe - nRe * dIm) * size;
  }

  /** From the top down ∂r/∂N and ∂r/∂D, and from them what each interface and each echo adds. */
  private adjoin(point: number): void {
    const { work, scaled } = this;
    const end = (this.deepest[point]! + 1) * ROW;
    const [rRe, rIm] = [this.value[2 * point]!, this.value[2 * point + 1]!];
    let [nRe, nIm] = [work[BELOW]!, work[BELOW + 1]!];
    let [dRe, dIm] = [rIm * nIm - rRe * nRe, -rIm * nRe - rRe * nIm];
    let aboveKappa = 0;
    for (let at = ROW; at <= end; at += ROW) {
      if (scaled) {
        const scale = work[at + SCALE]!;
        nRe *= scale;
        nIm *= scale;
        dRe *= scale;
        dIm *= scale;
      }
      const oRe = work[at + ECHO]!;
      const oIm = work[at + ECHO + 1]!;
      const bRe = work[at + BELOW]!;
      const bIm = work[at + BELOW + 1]!;
      const wRe = work[at + W]!;
      const wIm = work[at + W + 1]!;
      // Twice ∂r/∂ψ over (v_{j−1} + v_j)²: ∂ψ/∂v is ±2 v of the other side over that.
      const byPsiRe = 2 * (nRe * bRe - nIm * bIm + dRe * oRe - dIm * oIm);
      const byPsiIm = 2 * (nRe * bIm + nIm * bRe + dRe * oIm + dIm * oRe);
      work[at + BY_V] = byPsiRe * wRe - byPsiIm * wIm;
      work[at + BY_V + 1] = byPsiRe * wIm + byPsiIm * wRe;
      const kappa = work[at + KAPPA]!;
      const psiRe = (kappa - aboveKappa) * wIm;
      const psiIm = (aboveKappa - kappa) * wRe;
      aboveKappa = kappa;
      const byEchoRe = nRe + dRe * psiRe - dIm * psiIm;
      const byEchoIm = nIm + dRe * psiIm + dIm * psiRe;
      dRe += nRe * psiRe - nIm * psiIm;
      dIm += nRe * psiIm + nIm * psiRe;
      work[at + BY_FOLD] = byEchoRe * oRe - byEchoIm * oIm;
      work[at + BY_FOLD + 1] = byEchoRe * oIm + byEchoIm * oRe;
      const eRe = work[at + E]!;
      const eIm = work[at + E + 1]!;
      nRe = byEchoRe * eRe - byEchoIm * eIm;
      nIm = byEchoRe * eIm + byEchoIm * eRe;
    }
    // Below the deepest layer nothing is added.
    work[end + ROW + BY_V] = 0;
    work[end + ROW + BY_V + 1] = 0;
  }

  /** The derivatives of each layer: by v at its top and its base, and by the fold of its echo. */
  private differentiate(point: number, thickness: boolean): void {
    const { work, fold, byLog, byThickness } = this;
    const end = (this.deepest[point]! + 1) * ROW;
    const stride = 2 * this.points;
    const twice = -2 * this.wavenumber_per_m[point]!;
    let foldAt = 2 * point * this.layers + 1;
    let out = 2 * point;
    let aboveRe = 1;
    let aboveIm = 0;
    // ∂r/∂v of the layer above, as far as its top and its echo go.
    let gRe = 0;
    let gIm = 0;
    for (let at = ROW; ; at += ROW, foldAt += 2, out += stride) {
      const qRe = work[at + BY_V]!;
      const qIm = work[at + BY_V + 1]!;
      const hereRe = work[at + V]!;
      const hereIm = work[at + V + 1]!;
      if (at > ROW) {
        gRe += qRe * hereRe - qIm * hereIm;
        gIm += qRe * hereIm + qIm * hereRe;
        // ∂v/∂ ln σ is iκ/(2v).
        const half = (0.5 * work[at - ROW + KAPPA]!) / (aboveRe * aboveRe + aboveIm * aboveIm);
        byLog[out - stride] = half * (gRe * aboveIm - gIm * aboveRe);
        byLog[out - stride + 1] = half * (gRe * aboveRe + gIm * aboveIm);
      }
      if (at > end) return;
      const zRe = work[at + BY_FOLD]!;
      const zIm = work[at + BY_FOLD + 1]!;
      const t = fold[foldAt]!;
      gRe = qIm * aboveIm - qRe * aboveRe - t * zRe;
      gIm = -qRe * aboveIm - qIm * aboveRe - t * zIm;
      if (thickness && at < end) {
        byThickness[out] = twice * (zRe * hereRe - zIm * hereIm);
        byThickness[out + 1] = twice * (zRe * hereIm + zIm * hereRe);
      }
      aboveRe = hereRe;
      aboveIm = hereIm;
    }
  }
}

function foldsOf(wavenumber_per_m: Float64Array, thickness_m: Float64Array): Float64Array {
  const m = thickness_m.length + 1;
  const fold = new Float64Array(2 * m * wavenumber_per_m.length);
  for (let point = 0; point < wavenumber_per_m.length; point++) {
    const twice = 2 * wavenumber_per_m[point]!;
    for (let j = 0; j + 1 < m; j++) {
      const at = 2 * (point * m + j);
      fold[at + 1] = twice * thickness_m[j]!;
      fold[at] = Math.exp(-fold[at + 1]!);
    }
  }
  return fold;
}

/**
 * Places in a row of the work: κ = ωμ₀σ/λ², v, E, (v_{j−1} + v_j)^−2, E N and D of what lies below,
 * what N and D were scaled by; ∂r/∂v of either side over v of the other; ∂r/∂E times N.
 */
const KAPPA = 0;
const V = 1;
const E = 3;
const W = 5;
const ECHO = 7;
const BELOW = 9;
const SCALE = 11;
const BY_V = 12;
const BY_FOLD = 14;
const ROW = 16;

/** So many layers never need scaling. */
const FEW = 40;
const TINY = 1e-100;

/** What brings N and D back where |D|² has left its range; 1 elsewhere. */
function scaleOf(square: number): number {
  return square > TINY && square < 1 / TINY ? 1 : 1 / Math.sqrt(square);
}

/** Below this κ the series of v reach 5e-10 of v − 1. */
const WEAK = 0.05;
/** Below these exponents the short and the long power series of E reach 2e-11. */
const NEAR_A = 0.04;
const NEAR_B = 0.3;
const FAR = 0.5;
/** 1/n! */
const C2 = 1 / 2;
const C3 = 1 / 6;
const C4 = 1 / 24;
const C5 = 1 / 120;
const C6 = 1 / 720;
const C7 = 1 / 5040;
const C8 = 1 / 40320;
const C9 = 1 / 362880;
const C10 = 1 / 3628800;
const C11 = 1 / 39916800;
