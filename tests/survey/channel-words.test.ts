import { expect, it } from "vitest";
import { channelsText } from "../../lib/survey/channel-words.js";
import type { Channel } from "../../lib/survey/survey.js";

const channel = (
  kind: Channel["kind"],
  frequency_Hz: number,
  orientation: Channel["orientation"],
  separation_m: number,
): Channel => ({
  ...{ field: "any", unit: kind === "conductivity" ? "mS/m" : "ppm" },
  ...{ kind, frequency_Hz, orientation, separation_m },
});

it("says many channels in few words", () => {
  const both = [1500, 4000, 10_000].flatMap((f) => [
    channel("quadrature", f, "HCP", 1.8),
    channel("inphase", f, "HCP", 1.8),
  ]);
  expect(channelsText(both)).toBe("quadrature and in-phase, 1.5, 4 and 10 kHz, HCP, 1.8 m");
});

it("brings separations and orientations together where all else is alike", () => {
  const all = [1, 2, 4].flatMap((s) => [
    channel("quadrature", 900, "HCP", s),
    channel("quadrature", 900, "PRP", s),
  ]);
  expect(channelsText(all)).toBe("quadrature, 900 Hz, HCP and PRP, 1, 2 and 4 m");
});

it("parts what shares too little", () => {
  const two = [channel("conductivity", 9800, "HCP", 3.66), channel("inphase", 9800, "VCP", 1)];
  expect(channelsText(two)).toBe("conductivity, 9.8 kHz, HCP, 3.66 m; in-phase, 9.8 kHz, VCP, 1 m");
});
