import {
  type LonLat,
  type MapProjection,
  mapProjection,
  scaleAt,
  utmDefinition,
  utmZoneAt,
} from "../../bank/projection.js";
import type { FaultLog } from "../../check/faults.js";
import type { SurveyProperties } from "../package/descriptor.js";
import { PACKAGE_FILE } from "../package/package-schema.js";

/** A grid that stretches distances by more than this at the survey is refused. */
const LARGEST_STRETCH = 0.005;

const mercators = new Set([3857, 3785, 3395, 900913]);

/**
 * The survey's projection: the zone of its `crs`, the definition it gives for another code, or the
 * UTM zone of the centreline's middle where it gives none. Null with a fault where none will do.
 */
export function chooseProjection(
  survey: SurveyProperties,
  middle: LonLat,
  log: FaultLog,
): MapProjection | null {
  if (survey.crs === undefined) {
    const epsg = utmZoneAt(middle);
    log.caution(`survey.crs is not given; EPSG:${epsg}, the UTM zone of the centreline, is used`);
    return mapProjection(epsg);
  }
  const epsg = Number(String(survey.crs).replace(/^EPSG:/, ""));
  const place = { file: PACKAGE_FILE, field: "survey.crs" };
  if (mercators.has(epsg)) {
    const hint = "a Mercator map of the world stretches distances";
    const rule = "a system fit for distances";
    log.add({ code: "crs-unfit", ...place, rule, value: `EPSG:${epsg}`, hint });
    return null;
  }
  const definition = survey.crsDefinition ?? utmDefinition(epsg);
  if (definition === null) {
    const rule = 'a UTM zone, or come with "crsDefinition", a PROJ string';
    log.add({ code: "crs-unknown", ...place, rule, value: `EPSG:${epsg}` });
    return null;
  }
  return usable(epsg, { definition, middle }, log);
}

/**
 * Notes a UTM zone further than the next one's edge from the centreline, or of the other half of
 * the globe.
 */
function noteOtherZone(epsg: number, middle: LonLat, log: FaultLog): void {
  const own = utmZoneAt(middle);
  const isUtm = utmDefinition(epsg) !== null && epsg >= 32600;
  if (!isUtm || epsg === own) return;
  const across = Math.abs((epsg % 100) * 6 - 183 - middle.longitude);
  if (across <= REACH_DEG && epsg < 32700 === own < 32700) return;
  log.caution(`survey.crs, EPSG:${epsg}, is not the UTM zone of the centreline, EPSG:${own}`);
}

/** A zone may be used so far beyond its edge, degrees from its middle. */
const REACH_DEG = 4;

function usable(
  epsg: number,
  { definition, middle }: { readonly definition: string; readonly middle: LonLat },
  log: FaultLog,
): MapProjection | null {
  let projection: MapProjection;
  try {
    projection = mapProjection(epsg, definition);
  } catch {
    const rule = "a PROJ string that can be read";
    const place = { file: PACKAGE_FILE, field: "survey.crsDefinition" };
    log.add({ code: "crs-definition", ...place, rule, value: JSON.stringify(definition) });
    return null;
  }
  const { east, north } = scaleAt(projection, middle);
  const worst = Math.abs(east - 1) >= Math.abs(north - 1) ? east : north;
  if (Math.abs(worst - 1) <= LARGEST_STRETCH) {
    noteOtherZone(epsg, middle, log);
    return projection;
  }
  const rule = "a system in metres that keeps distances within 0.5 % at the centreline";
  const value = Number.isFinite(worst) ? `a scale of ${worst.toPrecision(4)}` : "no scale there";
  const { longitude: latitude, latitude: longitude } = middle;
  const swapped = scaleAt(projection, { longitude, latitude });
  const hint =
    Math.abs(swapped.east - 1) <= LARGEST_STRETCH && Math.abs(swapped.north - 1) <= LARGEST_STRETCH
      ? "longitude and latitude of the centreline look swapped"
      : "another zone, or coordinates that are not in metres";
  log.add({ code: "crs-unfit", file: PACKAGE_FILE, field: "survey.crs", rule, value, hint });
  return null;
}
