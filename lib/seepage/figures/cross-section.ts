import { rounded } from "../../figures/numbers.js";
import { figureSpec, fixedLayer, type Layer, type Panel, type Row } from "../../figures/spec.js";
import { fontSizes, greys } from "../../figures/theme.js";
import type { Figure } from "../../step/figure.js";
import type { CrossSection, Survey } from "../../survey/survey.js";
import type { StretchHydraulics } from "../hydraulics/judged-stretch.js";
import type { Seepage, SeepageZone } from "../seepage.js";
import { zoneName } from "../words.js";

const SHOWN = 3;
const WIDTH_PX = 780;
/** Ground drawn beyond either toe, m. */
const BESIDE_M = 14;
/** Of the aquifer no more than this is drawn, m. */
const DEEPEST_M = 8;

const COLOURS = { water: "#a9cbe2", bank: "#d9d0c0", blanket: "#a3998a", aquifer: "#efe2b4" };

/**
 * The bank at the worst places, to scale, as far as it is known; nothing without a cross-section.
 */
export function crossSectionFigure(value: Seepage, survey: Survey): readonly Figure[] {
  const sketches = value.zones.slice(0, SHOWN).flatMap((zone) => {
    const shape = survey.crossSectionAt((zone.from_m + zone.to_m) / 2);
    const outline = outlineOf(shape, survey.designWaterLevel_m);
    if (outline === null || zone.hydraulics === null) return [];
    const { hydraulics: found } = zone;
    return [{ zone, found, panel: sketch(zone, found, outline) }];
  });
  const [first] = sketches;
  if (first === undefined) return [];
  const title = titleOf(first.zone, first.found);
  return [
    {
      id: "seepage-cross-sections",
      title,
      caption:
        "Cross-sections to scale, the same up and across, the landside to the right, at design water " +
        "level. Blanket and pervious stratum are drawn at their medians, dashed lines hold 80 % of the " +
        "blanket; the text beside says what was seen and what is assumed. Nothing was measured beyond the toe " +
        "unless it says so.",
      spec: figureSpec({ title }, WIDTH_PX, { vconcat: sketches.map(({ panel }) => panel) }),
    },
  ];
}

function titleOf(zone: SeepageZone, { head_m, blanket_m, sources }: StretchHydraulics): string {
  const head = `At zone 1 the design water stands ${head_m.toFixed(1)} m over the toe`;
  const blanket = `a blanket of ${blanket_m.p10.toFixed(1)} to ${blanket_m.p90.toFixed(1)} m`;
  return zone.exitGradient === null
    ? `${head}; ${blanket} is assumed there (${partOf(sources, 0)})`
    : `${head}, on ${blanket} (${partOf(sources, 0)})`;
}

/** Such as "BH5, 15 m away", of the blanket (0) or of the aquifer (1). */
function partOf(sources: string, place: number): string {
  return sources.split("; ")[place]?.split(": ")[1] ?? "";
}

/** Elevations and places, m; places from the waterside toe. */
interface Outline {
  readonly foot_m: number;
  readonly crest_m: number;
  readonly water_m: number;
  readonly watersideSlope: number;
  readonly crestWidth_m: number;
  readonly landsideSlope: number;
}

function outlineOf(shape: CrossSection, water_m: number | null): Outline | null {
  const { crestWidth_m, crestElevation_m, foundationElevation_m } = shape;
  const { watersideSlope, landsideSlope } = shape;
  if (crestWidth_m === null || crestElevation_m === null || foundationElevation_m === null) {
    return null;
  }
  if (watersideSlope === null || landsideSlope === null || water_m === null) return null;
  const [foot_m, crest_m] = [foundationElevation_m, crestElevation_m];
  return { foot_m, crest_m, water_m, watersideSlope, crestWidth_m, landsideSlope };
}

function sketch(zone: SeepageZone, found: StretchHydraulics, outline: Outline): Panel {
  const { foot_m, crest_m, water_m } = outline;
  const width_m = found.baseWidth_m + 2 * BESIDE_M;
  const blanket_m = foot_m - found.blanket_m.p50;
  const bottom_m = blanket_m - Math.min(found.aquifer_m.p50, DEEPEST_M);
  const top_m = Math.max(crest_m, water_m) + 0.8;
  const perMetre_px = WIDTH_PX / width_m;
  const scales = {
    x: { domain: [-BESIDE_M, width_m - BESIDE_M], nice: false },
    y: { domain: [bottom_m, top_m], nice: false, zero: false },
  };
  const ground = (top: number, base: number): Row[] =>
    [-BESIDE_M, width_m - BESIDE_M].map((x) => ({ x, a: rounded(top, 2), b: rounded(base, 2) }));
  const area = (values: readonly Row[], color: string) => areaLayer(values, color, scales);
  return {
    width: WIDTH_PX,
    height: Math.round((top_m - bottom_m) * perMetre_px),
    layer: [
      area(ground(blanket_m, bottom_m), COLOURS.aquifer),
      area(ground(foot_m, blanket_m), COLOURS.blanket),
      area(waterRows(outline), COLOURS.water),
      area(bankRows(outline), COLOURS.bank),
      ...limits(found, outline, width_m),
      ...labels(zone, found, { outline, width_m, blanket_m, bottom_m, perMetre_px }),
    ],
  };
}

interface Scales {
  readonly x: { readonly domain: number[]; readonly nice: boolean };
  readonly y: { readonly domain: number[]; readonly nice: boolean; readonly zero: boolean };
}

function areaLayer(values: readonly Row[], color: string, scales: Scales): Layer {
  return {
    data: { values: values.map((row) => ({ ...row })) },
    mark: {
      type: "area",
      color,
      line: { color: greys.quiet, strokeWidth: 0.8 },
      interpolate: "linear",
    },
    encoding: {
      x: {
        field: "x",
        type: "quantitative",
        scale: scales.x,
        axis: { title: "From the waterside toe (m)", tickCount: 10, grid: false },
      },
      y: {
        field: "a",
        type: "quantitative",
        scale: scales.y,
        axis: { title: "Elevation (m)", tickCount: 6, grid: false },
      },
      y2: { field: "b" },
    },
  };
}

function bankRows({ foot_m, crest_m, ...outline }: Outline): Row[] {
  const height_m = crest_m - foot_m;
  const shoulder_m = height_m * outline.watersideSlope;
  const far_m = shoulder_m + outline.crestWidth_m;
  const toe_m = far_m + height_m * outline.landsideSlope;
  const at = (x: number, a: number): Row => ({ x: rounded(x, 2), a, b: foot_m });
  return [at(0, foot_m), at(shoulder_m, crest_m), at(far_m, crest_m), at(toe_m, foot_m)];
}

function waterRows({ foot_m, water_m, crest_m, watersideSlope }: Outline): Row[] {
  const end_m = (Math.min(water_m, crest_m) - foot_m) * watersideSlope;
  const at = (x: number): Row => ({ x: rounded(x, 2), a: water_m, b: foot_m });
  return [at(-BESIDE_M), at(end_m)];
}

/** Where 80 % of the blanket's base lie. */
function limits({ blanket_m }: StretchHydraulics, { foot_m }: Outline, width_m: number): Layer[] {
  return [blanket_m.p10, blanket_m.p90].map((thickness) => ({
    data: {
      values: [-BESIDE_M, width_m - BESIDE_M].map((x) => ({
        x,
        a: rounded(foot_m - thickness, 2),
      })),
    },
    mark: { type: "line", color: greys.text, strokeWidth: 1, strokeDash: [4, 4], clip: true },
    encoding: {
      x: { field: "x", type: "quantitative" },
      y: { field: "a", type: "quantitative" },
    },
  }));
}

interface Drawn {
  readonly outline: Outline;
  readonly width_m: number;
  readonly blanket_m: number;
  readonly bottom_m: number;
  readonly perMetre_px: number;
}

function labels(zone: SeepageZone, found: StretchHydraulics, drawn: Drawn): Layer[] {
  const { outline, width_m, blanket_m, bottom_m } = drawn;
  const middle_m = found.baseWidth_m / 2;
  const note = (x: number, y: number, t: string): Layer => ({
    data: { values: [{ x: rounded(x, 2), a: rounded(y, 2), t }] },
    mark: { type: "text", align: "center", fontSize: fontSizes.note, color: greys.text },
    encoding: {
      x: { field: "x", type: "quantitative" },
      y: { field: "a", type: "quantitative" },
      text: { field: "t" },
    },
  });
  const { p10, p50, p90 } = found.blanket_m;
  const heading = fixedLayer({
    type: "text",
    text: `Zone ${zoneName(zone)}`,
    ...{ x: 0, y: -4, align: "left", baseline: "bottom", fontSize: fontSizes.heading },
    fontWeight: "bold",
  });
  const aquifer = `pervious stratum ${found.aquifer_m.p50.toFixed(1)} m, ${partOf(found.sources, 1)}`;
  const blanket = `blanket ${p50.toFixed(1)} m (${p10.toFixed(1)}–${p90.toFixed(1)}), ${partOf(found.sources, 0)}`;
  return [
    heading,
    note(-BESIDE_M / 2 - 1, outline.water_m - 0.6, `design water ${outline.water_m.toFixed(1)} m`),
    note(middle_m, (outline.foot_m + outline.crest_m) / 2, evidenceText(zone)),
    note(width_m / 2 - BESIDE_M, (outline.foot_m + blanket_m) / 2, blanket),
    note(width_m / 2 - BESIDE_M, (blanket_m + bottom_m) / 2, aquifer),
  ];
}

/** The likelier of what the walk and a section say of the fill, such as "pervious body, 79 %". */
function evidenceText({ evidence }: SeepageZone): string {
  const shares = evidence.flatMap(({ name, value }) => {
    const says = name === "pervious under cover" || name === "section anomaly";
    return says && value !== null
      ? [{ value, by: name === "section anomaly" ? "section" : "walk" }]
      : [];
  });
  if (shares.length === 0) return "fill: not known";
  const most = shares.reduce((best, one) => (one.value > best.value ? one : best));
  return `pervious body in the fill: ${Math.round(100 * most.value)} % (${most.by})`;
}
