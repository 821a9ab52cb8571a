import type { Slopes } from "../earth/slopes.js";
import { bridged } from "../field/positions.js";
import type { MadeCampaign, MadeWalk } from "../field/walked-campaign.js";
import type { Campaign, Pass } from "../lib.js";
import type { MadeSurvey } from "../survey.js";
import { crossSectionOf, EPSG, placeOf } from "./geometry.js";

/** The campaigns of a made survey as the library's values, blank positions bridged. */
export function campaignsOf({ campaigns, length_m, slopes }: MadeSurvey): readonly Campaign[] {
  const ends = [placeOf(0), placeOf(length_m)];
  const centreline = {
    easting_m: Float64Array.from(ends, (end) => end.easting_m),
    northing_m: Float64Array.from(ends, (end) => end.northing_m),
    chainage_m: Float64Array.of(0, length_m),
    epsg: EPSG,
  };
  return campaigns.map((campaign) => ({
    label: campaign.label,
    passes: campaign.walks.map((walk) => passOf(walk, campaign.label)),
    baseChecks: checksOf(campaign),
    notes: [],
    soilTemperature: campaign.soilTemperature,
    causes: [],
    centreline,
    ...(slopes && { crossSections: crossSectionsOf(slopes) }),
  }));
}

function crossSectionsOf({ shape }: Slopes): NonNullable<Campaign["crossSections"]> {
  return { chainage_m: [0], section: [crossSectionOf(shape)], waterside: "left" };
}

function checksOf({ checks }: MadeCampaign): Campaign["baseChecks"] {
  return checks.map((check, i) => ({ file: "base-checks.csv", row: i + 2, spot: "B0", ...check }));
}

function passOf(walk: MadeWalk, label: string): Pass {
  const { steps, channels, height_m } = walk;
  const count = steps.time_s.length;
  const { chainage_m, offset_m } = bridged(walk.recorded, steps);
  const places = Array.from(chainage_m, (x, i) => placeOf(x, offset_m[i]!));
  const resource = `${walk.name}-${label}`;
  return {
    resource,
    file: `${resource}.csv`,
    instrument: { height_m, channels },
    count,
    row: Int32Array.from({ length: count }, (_, i) => i + 2),
    time_s: Float64Array.from(steps.time_s),
    line: steps.line,
    easting_m: Float64Array.from(places, (place) => place.easting_m),
    northing_m: Float64Array.from(places, (place) => place.northing_m),
    chainage_m,
    offset_m,
    height_m: new Float64Array(count).fill(height_m),
    values: walk.values.map((column) => column.slice()),
    setAside: channels.map(() => new Uint8Array(count)),
    corrected: new Uint8Array(count),
  };
}
