import type { Changes } from "./changes.js";
import type { CampaignPair } from "./check-pair.js";
import type { Significance } from "./find-significant.js";
import type { SharedGround } from "./shared-ground.js";

interface Compared {
  readonly value: Changes;
  readonly ground: SharedGround;
  readonly found: Significance;
}

/** What a reader of a comparison by slices has to know. */
export function sliceCautions(
  { earlier, later }: CampaignPair,
  { value, ground, found }: Compared,
): readonly string[] {
  const texts: string[] = [];
  if (earlier.readings !== undefined && later.readings !== undefined) {
    texts.push(
      "The campaigns share no channel, or none that both read at one place, so their depth slices " +
        "were compared: errors of zero, gain and height of the coils differ between the instruments " +
        "and can make or hide a change.",
    );
  }
  if (ground.resliced) {
    texts.push(
      "The campaigns' slices differ; the layers of both were averaged over the earlier one's.",
    );
  }
  if (value.changes.length > 0) texts.push(ratioCaution(ground));
  return [...texts, ...scatterCautions(found, ground)];
}

function ratioCaution({ averaging }: SharedGround): string {
  const within =
    "A ratio is that of the slice as a whole: where only a part of its thickness changed, that " +
    "part changed more";
  return averaging === null
    ? `${within}. How much the estimates lean on their prior is not known, so a ratio is the ` +
        `least of the change.`
    : `${within}. The interval allows for what the estimates lose to their prior and to other ` +
        `slices, if the ground below the slices did not change.`;
}

function scatterCautions(found: Significance, ground: SharedGround): string[] {
  const texts: string[] = [];
  const worst = Math.max(...found.scatter);
  if (worst > 3) {
    texts.push(
      `The differences scatter ${worst.toFixed(1)} times as much as the estimates' own errors ` +
        "allow: the campaigns differ by more than their noise, and weak changes are hidden.",
    );
  }
  if (ground.unknown.filter((unknown) => !unknown).length < 60) {
    texts.push("Few stations (under 60): level and scatter are uncertain, and so is each q.");
  }
  return texts;
}
