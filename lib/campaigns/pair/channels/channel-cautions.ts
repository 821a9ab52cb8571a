import { placeText } from "../../ranges.js";
import type { Change, Changes, OffsetStretch, UnexplainedDifference } from "../changes.js";
import type { CampaignPair } from "../check-pair.js";
import type { ComparedChannels } from "./compare-channels.js";

/** What a reader of a comparison by channels has to know. */
export function channelCautions(
  { earlier }: CampaignPair,
  { input, line }: ComparedChannels,
  value: Changes,
): readonly string[] {
  const { changes, offsets = [], unexplained = [] } = value;
  const texts = [...offsets.map(offsetText), ...unexplained.map(unexplainedText)];
  const shared = input.pair.channels.length;
  const all = earlier.readings?.length ?? shared;
  if (shared < all) {
    texts.push(`The campaigns share ${shared} of the earlier one's ${all} channels.`);
  }
  if (changes.length > 0) texts.push(RATIO);
  texts.push(...majorityText(value, input.level), ...changes.flatMap(heightText));
  const length = Math.round(40 / input.pair.spacing_m);
  const times = Math.sqrt(line.scan.inflationAt(length));
  if (times > 3) {
    texts.push(
      `Over 40 m the differences scatter ${times.toFixed(1)} times as much as neighbours that are ` +
        "independent would: the campaigns differ along the line by more than their noise, and " +
        "weak changes are hidden.",
    );
  }
  if (input.pair.chainage_m.length < 60) {
    texts.push(
      "Few stations (under 60): the scatter along the line is uncertain, and so is each q.",
    );
  }
  return texts;
}

const RATIO =
  "A ratio is that of the slice as a whole: where only a part of its thickness changed, that part " +
  "changed more. A change is taken for one that fills the ground between two depths, whole or " +
  "fading downward.";

function offsetText({ from_m, to_m, kind, height_m, orGround }: OffsetStretch): string {
  const way = height_m > 0 ? "higher" : "lower";
  const cause =
    kind === "height"
      ? `coils carried ${Math.abs(height_m).toFixed(2)} m ${way} in the later campaign`
      : "other zeros of the channels";
  const taken =
    `At ${placeText({ from_m, to_m })} the campaigns differ as ${cause} would make them, such as by ` +
    "a second operator: it was taken off, and counts as no change of the ground.";
  if (orGround !== true) return taken;
  return `${taken} A change of the ground would look the same to these channels: ask who walked there.`;
}

const unexplainedText = (one: UnexplainedDifference) =>
  `At ${placeText(one)} the campaigns differ by more than their noise, and neither the ground nor ` +
  "another height or other zeros of the coils would make them differ so: whether the ground changed " +
  "there is not told. Look at the readings of both.";

/** Share of the stations from which on those that did not change are no clear majority. */
const NO_MAJORITY = 0.35;

/** Where the level is that of the majority, and there is hardly one. */
function majorityText({ changes, chainage_m }: Changes, level: "majority" | "none") {
  const isIn = (x: number) => changes.some(({ from_m, to_m }) => x >= from_m && x <= to_m);
  const share = chainage_m.filter(isIn).length / chainage_m.length;
  if (level === "none" || !(share > NO_MAJORITY)) return [];
  return [
    `The changes cover ${(100 * share).toFixed(0)} % of the line. What is common to the rest was taken ` +
      "for instruments and season: it may as well be the rest that changed, the other way.",
  ];
}

function heightText({ from_m, to_m, heightOffset_m }: Change): readonly string[] {
  if (heightOffset_m === undefined) return [];
  const way = heightOffset_m > 0 ? "higher" : "lower";
  const size = Math.abs(heightOffset_m).toFixed(2);
  return [
    `The change at ${placeText({ from_m, to_m })} could as well be coils carried ${size} m ${way} ` +
      `there in the later campaign: the channels do not tell the two apart.`,
  ];
}
