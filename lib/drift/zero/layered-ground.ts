import { layeredResponse } from "../../earth/coil-response.js";
import { lowInductionQuadrature } from "../../earth/half-space.js";
import type { HeightDatum } from "./height-data.js";

/** Logarithms of one or two layers' conductivities, S/m, and of the upper one's thickness, m. */
export type LogGround = readonly number[];

export function groundOf(log: LogGround) {
  const values = log.map(Math.exp);
  return { conductivity_S_per_m: values.slice(0, 2), thickness_m: values.slice(2) };
}

/** What a datum's channel reads over the ground, in its unit. */
export function responseAt({ channel, height_m }: HeightDatum, log: LogGround): number {
  const { orientation, separation_m, frequency_Hz } = channel;
  const coils = { orientation, separation_m, frequency_Hz, height_m };
  const { inphase_ppm, quadrature_ppm } = layeredResponse(groundOf(log), coils);
  if (channel.kind === "inphase") return inphase_ppm;
  return channel.kind === "quadrature"
    ? quadrature_ppm
    : quadrature_ppm / lowInductionQuadrature(1e-3, coils);
}

/** Step of the central difference, ln. */
const DIFFERENCE = 1e-3;

/** For each unknown of the ground, the derivative of each datum. */
export function derivativesAt(
  data: readonly HeightDatum[],
  ground: LogGround,
): readonly (readonly number[])[] {
  return ground.map((_, k) => {
    const moved = (by: number) => ground.map((value, j) => (j === k ? value + by : value));
    const [up, down] = [moved(DIFFERENCE), moved(-DIFFERENCE)];
    return data.map((one) => (responseAt(one, up) - responseAt(one, down)) / (2 * DIFFERENCE));
  });
}

type Normal = { readonly mean: number; readonly sd: number };

/** Ordinary ground, so that what the readings do not determine stays sensible: ln S/m and ln m. */
const CONDUCTIVITY: Normal = { mean: Math.log(0.03), sd: 1.5 };
const THICKNESS: Normal = { mean: Math.log(1.5), sd: 1 };

/** The prior of each unknown of the ground. */
export function priorsOf(ground: LogGround): readonly Normal[] {
  return ground.map((_, k) => (k === 2 ? THICKNESS : CONDUCTIVITY));
}
