import { baseResponse } from "./base-checks.js";
import { BLOCKS, CHANGES, DRAIN, LENS, SPRING_MOISTURE } from "./blocks.js";
import { CAMPAIGNS, type CampaignFacts, FACTS } from "./facts.js";
import { significant } from "./formats.js";
import type { Ground } from "./ground.js";
import { CHECK_READINGS, COILS, channelsOf, driftFigures, noiseOf } from "./instrument.js";
import { objectResponse_ppm } from "./metal.js";
import { METAL_OBJECTS, type MetalObject } from "./metal-objects.js";
import { groundResponse, layersAt } from "./readings.js";
import { ELECTRODE_LINES, type ElectrodeLine } from "./resistivity-lines.js";
import { riverBeside, type SectionRiver, sectionEarth } from "./section-earth.js";
import type { FieldDay } from "./walk.js";

/** What is really there: everything that a test of an interpretation needs. */

export interface World {
  readonly ground: Ground;
  readonly days: ReadonlyMap<string, FieldDay>;
}

export function truthJson(world: World): string {
  const truth = {
    note: "Truth behind the demo survey. Chainage and depth in m, resistivity in ohm-m.",
    length_m: FACTS.length_m,
    blocks: BLOCKS.map(blockTruth),
    boundaries_m: BLOCKS.slice(0, -1).map((block) => block.to_m),
    lens: {
      from_m: LENS.from_m,
      to_m: LENS.to_m,
      top_m: LENS.top_m,
      base_m: LENS.base_m,
      resistivity25_ohm_m: LENS.resistivity_ohm_m,
    },
    changes: CHANGES.map(changeTruth),
    drain: drainTruth(),
    seasonal: { top_m: 0, ...SPRING_MOISTURE, reason: "whole bank, moister surface in spring" },
    drift: CAMPAIGNS.flatMap((campaign) => driftTruth(campaign, world)),
    metal: METAL_OBJECTS.map((object) => metalTruth(object, world)),
    gpsGaps: CAMPAIGNS.flatMap(({ label, gpsGaps }) =>
      gpsGaps.map((gap) => ({ campaign: label, ...gap })),
    ),
    sections: ELECTRODE_LINES.map((line) => sectionTruth(line, world.ground)),
    grid: gridTruth(world.ground),
  };
  return `${listed(truth)}\n`;
}

/** One line for each top-level part, so that a difference shows where it is. */
function listed(truth: Readonly<Record<string, unknown>>): string {
  const parts = Object.entries(truth).map(([key, value]) => {
    return `"${key}": ${JSON.stringify(value)}`;
  });
  return `{\n${parts.join(",\n")}\n}`;
}

function blockTruth(block: (typeof BLOCKS)[number]) {
  const { name, from_m, to_m, transition_m } = block;
  const layers = block.layers.map((layer, k) => ({
    top_m: block.layers[k - 1]?.base_m ?? 0,
    base_m: Number.isFinite(layer.base_m) ? layer.base_m : null,
    resistivity25_ohm_m: layer.resistivity_ohm_m,
    soil: layer.soil,
  }));
  return { name, from_m, to_m, transition_m, layers };
}

function changeTruth(change: (typeof CHANGES)[number]) {
  const { from_m, to_m, top_m, base_m, conductivityRatio, reason } = change;
  const direction = conductivityRatio > 1 ? "fell" : "rose";
  const ratio = significant(1 / conductivityRatio, 4);
  return { from_m, to_m, top_m, base_m, direction, ratio, reason };
}

function drainTruth() {
  const { resistivity_ohm_m, ...place } = DRAIN;
  return { ...place, resistivity25_ohm_m: resistivity_ohm_m };
}

function driftTruth(campaign: CampaignFacts, { days }: World) {
  const day = days.get(campaign.label)!;
  const hours = (day.end_ms - day.start_ms) / 3_600_000;
  return (["HCP", "VCP"] as const).flatMap((orientation) => {
    const clean = baseResponse(campaign, orientation);
    return channelsOf(orientation).map((channel, k) => {
      const [perHour, step] = driftFigures(campaign.label, channel);
      const readingSd = noiseOf(channel, clean[k]!);
      return {
        campaign: campaign.label,
        channel: channel.field,
        perHour,
        step,
        hours: significant(hours, 4),
        batteryChange: new Date(day.battery_ms).toISOString(),
        readingSd: significant(readingSd, 3),
        checkSd: significant(readingSd / Math.sqrt(CHECK_READINGS), 3),
      };
    });
  });
}

/** Signal over noise beyond which metal counts as felt. */
const FELT = 3;

function metalTruth(object: MetalObject, world: World) {
  const { noted, silent, campaigns, from_m, to_m } = object;
  const footprint = silent ? null : footprintOf(object, world);
  return { object: object.object, noted, silent, campaigns, from_m, to_m, footprint };
}

/** Where the object's own part exceeds three times the noise in any channel. */
function footprintOf(object: MetalObject, { ground }: World) {
  const campaign = object.campaigns[0]!;
  const middle = (object.from_m + object.to_m) / 2;
  const limits = (["HCP", "VCP"] as const).flatMap((orientation) => {
    const clean = groundResponse(layersAt(ground, middle, campaign), orientation, COILS.height_m);
    return channelsOf(orientation).map((channel, k) => {
      return { channel, limit_ppm: FELT * noiseOf(channel, clean[k]!) };
    });
  });
  const felt = (at: number) =>
    limits.some((one) => Math.abs(objectResponse_ppm(object, at, one.channel)) > one.limit_ppm);
  let from = object.from_m - 15;
  let to = object.to_m + 15;
  while (from < to && !felt(from)) from += 0.1;
  while (to > from && !felt(to)) to -= 0.1;
  return { from_m: Number(from.toFixed(1)), to_m: Number(to.toFixed(1)) };
}

/** The cells of the forward model, at field temperature. */
function sectionTruth(line: ElectrodeLine, ground: Ground) {
  const cells = sectionEarth(ground, line);
  const resistivity_ohm_m = cells.resistivity_ohm_m.map((row) => row.map((v) => significant(v, 3)));
  const { badContacts, campaign } = line;
  const water = riverBeside(line);
  const made = { line: line.line, campaign, badContacts, ...cells, resistivity_ohm_m };
  return water === null ? made : { ...made, water: waterTruth(water) };
}

function waterTruth({ level_m, resistivity_ohm_m }: SectionRiver) {
  return { level_m: significant(level_m, 3), resistivity_ohm_m };
}

const GRID = Object.freeze({ step_m: 2, depthStep_m: 0.25, depth_m: 6 });

/** Geometric means over 2 m of chainage and 0.25 m of depth; row by chainage, ohm-m. */
function gridTruth(ground: Ground) {
  const depthEdges_m = Array.from(
    { length: GRID.depth_m / GRID.depthStep_m + 1 },
    (_, k) => k * GRID.depthStep_m,
  );
  const stations = FACTS.length_m / GRID.step_m + 1;
  const table = (resistivity: Ground["resistivity"], campaign: CampaignFacts) =>
    Array.from({ length: stations }, (_, i) =>
      depthEdges_m.slice(1).map((_base, k) => {
        const at = (along: number, down: number) =>
          Math.log(resistivity(i * GRID.step_m + along, depthEdges_m[k]! + down, campaign.label));
        return significant(Math.exp(meanOver(at)), 3);
      }),
    );
  return {
    spacing_m: GRID.step_m,
    depthEdges_m,
    field: Object.fromEntries(CAMPAIGNS.map((c) => [c.label, table(ground.resistivity, c)])),
    at25: Object.fromEntries(CAMPAIGNS.map((c) => [c.label, table(ground.resistivity25, c)])),
  };
}

const ALONG = [-0.75, -0.25, 0.25, 0.75];
const DOWN = [0.025, 0.075, 0.125, 0.175, 0.225];

function meanOver(at: (along: number, down: number) => number): number {
  let sum = 0;
  for (const along of ALONG) for (const down of DOWN) sum += at(along, down);
  return sum / (ALONG.length * DOWN.length);
}
