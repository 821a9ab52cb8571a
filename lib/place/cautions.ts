import { countText } from "../step/show/html.js";
import { coregistrationCautions } from "./coregister/account.js";
import type { PlaceOptions } from "./options.js";
import { isPlausible, type PegCheck } from "./pegs/peg-checks.js";
import type { CampaignPlacement } from "./place-campaign.js";
import type { PassPlacement } from "./walk/finish-pass.js";

/** What there is to know of the positions before they are relied on. */
export function placementCautions(
  placement: CampaignPlacement,
  used: PlaceOptions,
): readonly string[] {
  const { campaign, passes } = placement;
  const ofCampaign = (text: string) => `${campaign}: ${text}.`;
  return [
    ...passes.flatMap((pass) =>
      passCautions(pass, used).map((text) => `${campaign}, ${pass.file}: ${text}.`),
    ),
    ...lagCautions(placement, used).map(ofCampaign),
    ...coregistrationCautions(placement, used).map(ofCampaign),
    ...pegCautions(placement).map(ofCampaign),
  ];
}

function passCautions(pass: PassPlacement, used: PlaceOptions): readonly string[] {
  const { gaps, bridged, spikes, stood, stoodKept, sameAgain, stepsBack, stepsBack_m } = pass;
  const filled = gaps.filter(({ isBridged }) => isBridged);
  const open = gaps.filter(({ isBridged }) => !isBridged);
  const lost = open.reduce((sum, { readings }) => sum + readings, 0);
  const longest_m = Math.max(...filled.map(({ from_m, to_m }) => Math.abs(to_m - from_m)));
  const lieOf = (n: number) => (n === 1 ? "lies" : "lie");
  const repeat = sameAgain === 1 ? "repeats" : "repeat";
  const are = (n: number) => (n === 1 ? "is" : "are");
  const texts: readonly (readonly [n: number, text: string])[] = [
    [
      bridged,
      `${countText(bridged, "reading")} without a position ${lieOf(bridged)} in ` +
        `${countText(filled.length, "gap")} of up to ${longest_m.toFixed(0)} m; their chainage ` +
        `is bridged by time (limits ${used.bridgeUpTo_m} m and ${used.bridgeUpTo_s} s) and less ` +
        "sure",
    ],
    [
      lost,
      `${countText(lost, "reading")} without a position, of ${pass.readings}, ${lieOf(lost)} in ` +
        `${countText(open.length, "gap")} that ${open.length === 1 ? "is" : "are"} not bridged ` +
        `(limits ${used.bridgeUpTo_m} m and ${used.bridgeUpTo_s} s) and ${are(lost)} set aside`,
    ],
    [
      spikes,
      `${countText(spikes, "position")} far off the walk ${are(spikes)} replaced by the smoothed ` +
        "one",
    ],
    [
      stood,
      `${countText(stood, "reading")} made while standing still became ${stoodKept} by averaging`,
    ],
    [
      sameAgain,
      `${countText(sameAgain, "row")} ${repeat} the row before in everything and ` +
        `${are(sameAgain)} set aside`,
    ],
    [
      stepsBack,
      `${countText(stepsBack, "stretch", "stretches")} walked backwards, ` +
        `${stepsBack_m.toFixed(0)} m in all; the readings stand where they were made`,
    ],
  ];
  return texts.filter(([n]) => n > 0).map(([, text]) => text);
}

function lagCautions(placement: CampaignPlacement, { timeLag_s }: PlaceOptions): readonly string[] {
  const { lag_s, lagFrom, correlation } = placement;
  if (timeLag_s !== "estimate") return [];
  if (lagFrom === "not found") {
    return [
      "no time lag could be found: it takes 50 m walked in both directions, or two timed pegs in " +
        "each; none is applied",
    ];
  }
  const from =
    lagFrom === "pegs"
      ? "from pegs passed in both directions"
      : `from passes in opposite directions (correlation ${correlation.toFixed(2)})`;
  return [
    `the readings are taken to be ${lag_s.toFixed(2)} s late, ${from}; at a steady pace an ` +
      "antenna ahead of the coils looks the same",
  ];
}

/** Pegs that agree within this, m, need no word. */
const AGREES_M = 3;

function pegCautions({ pegs, pegsUsed }: CampaignPlacement): readonly string[] {
  const off_m = ({ stated_m, measured_m }: PegCheck) => Math.abs(stated_m - measured_m);
  const rejected = pegs
    .filter((peg) => !isPlausible(peg))
    .map(
      ({ object, stated_m, measured_m }) =>
        `the peg "${object}" says ${stated_m.toFixed(1)} m and lies at ` +
        `${measured_m.toFixed(1)} m; it is not believed`,
    );
  const sound = pegs.filter(isPlausible).sort((a, b) => off_m(b) - off_m(a));
  const [worst] = sound;
  if (worst === undefined) return rejected;
  const by = `by up to ${off_m(worst).toFixed(1)} m`;
  const count = countText(sound.length, "peg");
  if (pegsUsed) return [...rejected, `chainages are brought to ${count}, ${by}`];
  if (off_m(worst) <= AGREES_M) return rejected;
  const where = `${worst.object} at ${worst.stated_m.toFixed(1)} m`;
  return [
    ...rejected,
    `the chainages found differ from ${count} ${by} (${where}); pegs: "correct" would bring them ` +
      "there",
  ];
}
