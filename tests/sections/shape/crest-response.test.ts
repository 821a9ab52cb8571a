import { describe, it } from "vitest";
import { spreadResponse } from "../../../lib/earth/spread-response.js";
import { embankmentFactors } from "../../../lib/sections/embankment-factor.js";
import { crestResponse } from "../../../lib/sections/shape/crest-response.js";
import { expectClose } from "../../support/expect-close.js";

const wenner = [1, 2, 3, 5, 10].map((a) => ({ a_m: 0, m_m: a, n_m: 2 * a, b_m: 3 * a }));
const dipoles = [1, 3].map((n) => ({ b_m: 0, a_m: 1, m_m: 1 + n, n_m: 2 + n }));
const spreads = [...wenner, ...dipoles];
const surface = [
  { x_m: -14, elevation_m: 0 },
  { x_m: -2, elevation_m: 4 },
  { x_m: 0, elevation_m: 4 },
  { x_m: 2, elevation_m: 4 },
  { x_m: 10, elevation_m: 0 },
];

describe("crestResponse", () => {
  it("is the boundary integral's of a homogeneous embankment", () => {
    const earth = { x_m: [-20, 20], depth_m: [0, 10], resistivity_ohm_m: [[50]] };
    const shape = {
      crestWidth_m: 4,
      height_m: 4,
      watersideSlope: 3,
      landsideSlope: 2,
      offset_m: 0,
    };
    const factors = embankmentFactors(shape, spreads);
    for (const [i, value] of crestResponse({ earth, surface, line: 2 }, spreads).entries()) {
      expectClose(value / 50, factors[i]!, { relative: 1e-3 });
    }
  });

  it("is spreadResponse over level layers", () => {
    const layers = { resistivity_ohm_m: [100, 10, 100], thickness_m: [2, 3] };
    const earth = {
      x_m: [-20, 20],
      depth_m: [0, 2, 5, 9],
      resistivity_ohm_m: [[100], [10], [100]],
    };
    const level = surface.map(({ x_m }) => ({ x_m, elevation_m: 1 }));
    for (const [i, value] of crestResponse({ earth, surface: level, line: 2 }, spreads).entries()) {
      expectClose(value, spreadResponse(layers, spreads[i]!), { relative: 5e-3 });
    }
  });
});
