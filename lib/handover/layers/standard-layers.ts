import type { Findings } from "../../chain/findings.js";
import { readingsOf, surveyOf, type Work } from "../../chain/work.js";
import { blocksLayer } from "./blocks-layer.js";
import { boreholesLayer } from "./boreholes-layer.js";
import { changesLayer } from "./changes-layer.js";
import type { Layer } from "./layer.js";
import { readingsLayer } from "./readings-layer.js";
import { sectionsLayer } from "./sections-layer.js";
import { seepageLayer } from "./seepage-layer.js";
import { setAsideLayer } from "./set-aside-layer.js";

/** Every layer that is handed over; one without features is there, empty. */
export function standardLayers(findings: Findings, work: Work): readonly Layer[] {
  const survey = surveyOf(work).value;
  return [
    readingsLayer(readingsOf(work)),
    setAsideLayer(findings, survey),
    blocksLayer(findings, survey),
    changesLayer(findings, survey),
    seepageLayer(findings, survey),
    sectionsLayer(findings, survey),
    boreholesLayer(findings, survey),
  ];
}
