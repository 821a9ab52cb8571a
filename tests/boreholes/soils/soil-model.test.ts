import { CholeskyDecomposition, inverse, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { alikeOf, fitted, told } from "../../../lib/boreholes/soils/gaussian-process.js";
import { priorKernel, soilMembers } from "../../../lib/boreholes/soils/hyperparameters.js";
import {
  likeness,
  type SoilPlace,
  soilCorrelation,
} from "../../../lib/boreholes/soils/soil-kernel.js";
import { soilModel } from "../../../lib/boreholes/soils/soil-model.js";
import { seededRandom } from "../../../lib/numerics/random.js";
import { expectClose } from "../../support/expect-close.js";

const middle = { mean: 1.5, sd: 0.3 };
const random = seededRandom(5);
const places: SoilPlace[] = Array.from({ length: 9 }, (_, i) => ({
  chainage_m: 100 * Math.floor(i / 3) + 7 * Math.floor(i / 3) ** 2,
  depth_m: 0.5 + (i % 3),
  block: Math.floor(i / 3) % 2,
  log10Resistivity: 1.5 + 0.3 * random.normal(),
  sd: 0.05 + 0.1 * random.uniform(),
}));
const value = Float64Array.from(places, () => random.normal());
const borehole = places.map((_, i) => `BH${Math.floor(i / 3)}`);
const here: SoilPlace = { ...places[4]!, chainage_m: 150, log10Resistivity: 1.7, sd: 0.08 };

// The covariance written out once more, without anything that the library prepared.
function covariance(one: SoilPlace, other: SoilPlace, member = soilMembers()[30]!): number {
  const u = (place: SoilPlace) => (place.log10Resistivity - middle.mean) / middle.sd;
  const wide = 0.04 + one.sd ** 2 + other.sd ** 2;
  const alike =
    (0.2 / Math.sqrt(wide)) *
    Math.exp(-((one.log10Resistivity - other.log10Resistivity) ** 2) / (2 * wide));
  const near = Math.exp(-Math.abs(one.chainage_m - other.chainage_m) / member.range_m);
  const depth = Math.exp(-Math.abs(one.depth_m - other.depth_m) / 2);
  const block = one.block === other.block ? member.block : 0;
  const correlation = member.resistivity * alike + depth * (block + member.near * near);
  const same = one === other;
  const error = same ? 0.7 * (one.sd / middle.sd) ** 2 : 0;
  return 4 + u(one) * u(other) + member.variance * (same ? 1 : correlation) + error;
}

const member = soilMembers()[30]!;
const samples = { places, value, middle };
const K = new Matrix(places.map((one) => places.map((other) => covariance(one, other))));

describe("the Gaussian process of a soil property", () => {
  const fit = fitted(samples, alikeOf(places), { member, slopeSquare: 0.7 });

  it("tells another place as direct algebra does (Rasmussen & Williams 2006, 2.25 and 2.26)", () => {
    const at = { place: here, alike: places.map((place) => likeness(here, place)) };
    const { mean, sd } = told(fit, at, { samples, slopeSquare: 0.7 });
    const shared = Matrix.columnVector(places.map((place) => covariance(here, place)));
    const weights = shared.transpose().mmul(inverse(K));
    // Two ways of solving one system of condition under 1e4.
    expectClose(mean, weights.mmul(Matrix.columnVector(value)).get(0, 0), { absolute: 1e-9 });
    const variance = covariance(here, here) - weights.mmul(shared).get(0, 0);
    expectClose(sd ** 2, variance, { absolute: 1e-9 });
  });

  it("has the logarithmic likelihood of direct algebra (2.30)", () => {
    const y = Matrix.columnVector(value);
    const square = y.transpose().mmul(inverse(K)).mmul(y).get(0, 0);
    const root = new CholeskyDecomposition(K).lowerTriangularMatrix.diagonal();
    const logDeterminant = 2 * root.reduce((sum, one) => sum + Math.log(one), 0);
    const expected = -0.5 * (square + logDeterminant + 9 * Math.log(2 * Math.PI));
    expectClose(fit.logLikelihood, expected, { absolute: 1e-9 });
  });
});

describe("soil models", () => {
  it("tell a left-out borehole as a model made without it does", () => {
    const all = soilModel({ places, value, borehole }, middle);
    // Standardised with the moments of all, and slopes' mean squares nearly alike: to 3 % of scatter.
    const kept = places.flatMap((_, i) => (borehole[i] === "BH1" ? [] : [i]));
    const without = soilModel(
      {
        places: kept.map((i) => places[i]!),
        value: Float64Array.from(kept, (i) => value[i]!),
        borehole: kept.map((i) => borehole[i]!),
      },
      middle,
    );
    for (const i of [3, 4, 5]) {
      expectClose(all.leftOut[i]!.mean, without.at(places[i]!).mean, { absolute: 0.25 });
    }
  });

  it("find a straight relation without scatter, and are sure of it", () => {
    const straight = Float64Array.from(places, (place) => 3 - 2 * place.log10Resistivity);
    const exact = places.map((place) => ({ ...place, sd: 0.001 }));
    const model = soilModel({ places: exact, value: straight, borehole }, middle);
    const there = { ...here, chainage_m: 5000, block: 7, sd: 0.001 };
    const found = model.at(there);
    // The set of variances ends at 0.3 of the samples': it is never entirely sure.
    expectClose(found.mean, 3 - 2 * there.log10Resistivity, { absolute: 0.25 });
    expectClose(model.slope.mean, -2, { absolute: 0.5 });
  });

  it("shift and scale with the values", () => {
    const one = soilModel({ places, value, borehole }, middle).at(here);
    const scaled = value.map((y) => 10 + 3 * y);
    const other = soilModel({ places, value: scaled, borehole }, middle).at(here);
    expectClose(other.mean, 10 + 3 * one.mean, { absolute: 1e-9 });
    expectClose(other.sd, 3 * one.sd, { absolute: 1e-9 });
  });

  it("are less sure where the slice is, all else alike", () => {
    const model = soilModel({ places, value, borehole }, middle);
    expect(model.at({ ...here, sd: 0.4 }).sd).toBeGreaterThan(model.at({ ...here, sd: 0.02 }).sd);
  });
});

describe("soil correlation", () => {
  it("is symmetric, below 1 by what is a place's own, and falls with distance", () => {
    const near = { ...here, chainage_m: here.chainage_m + 10, sd: 0 };
    const far = { ...near, chainage_m: here.chainage_m + 500 };
    const exact = { ...here, sd: 0 };
    const same = soilCorrelation(exact, { ...exact }, priorKernel);
    expectClose(same, 1 - priorKernel.own, { absolute: 1e-12 });
    expect(soilCorrelation(exact, near, priorKernel)).toBeLessThan(same);
    expect(soilCorrelation(exact, far, priorKernel)).toBeLessThan(
      soilCorrelation(exact, near, priorKernel),
    );
    expect(soilCorrelation(here, places[0]!, priorKernel)).toBe(
      soilCorrelation(places[0]!, here, priorKernel),
    );
  });

  it("has shares that add up to 1 in every member", () => {
    for (const { resistivity, block, near, own } of soilMembers()) {
      expectClose(resistivity + block + near + own, 1, { absolute: 1e-12 });
    }
  });
});
