import { type Fault, quoted } from "../step/step-error.js";
import type { ResistivityLine } from "../survey/resistivity-line.js";
import { campaignsOf, ofCampaign } from "./readings/of-campaign.js";
import { screenLine } from "./readings/screen-line.js";
import { screenSettings } from "./screen-settings.js";
import type { InvertSectionOptions } from "./section-options.js";

/** A section asks for so many readings in use. */
const LEAST_READINGS = 20;
const LEAST_ELECTRODES = 4;

/** Faults of a line that leave nothing to invert, and of options that do not fit it. */
export function invertSectionFaults(line: ResistivityLine, used: InvertSectionOptions): Fault[] {
  const path = `line ${line?.line ?? ""}`.trim();
  if (!Array.isArray(line?.electrodes) || !Array.isArray(line.readings)) {
    const expected = "a line with electrodes and readings";
    return [{ code: "no-line", path, expected, received: quoted(line) }];
  }
  const electrodes = line.electrodes.filter(
    ({ x_m, elevation_m }) => Number.isFinite(x_m) && Number.isFinite(elevation_m),
  ).length;
  if (electrodes < LEAST_ELECTRODES) {
    const expected = `a line with ${LEAST_ELECTRODES} placed electrodes or more`;
    return [{ code: "too-few-electrodes", path, expected, received: String(electrodes) }];
  }
  const labels = campaignsOf(line);
  if (used.campaign !== null && !labels.includes(used.campaign)) {
    const expected = `one of ${labels.map(quoted).join(", ")}`;
    const received = quoted(used.campaign);
    return [{ code: "no-such-campaign", path: "options.campaign", expected, received }];
  }
  const { causes } = screenLine(ofCampaign(line, used.campaign), screenSettings(used));
  const inUse = causes.filter((cause) => cause === "").length;
  if (inUse >= LEAST_READINGS) return [];
  const expected = `a line with ${LEAST_READINGS} readings or more in use`;
  return [{ code: "too-few-readings", path, expected, received: `${inUse} of ${causes.length}` }];
}
