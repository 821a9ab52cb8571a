import { maskInterference, maskStep } from "../../interference/mask-interference.js";
import { setAsideTotal } from "../../step/account.js";
import { countText } from "../../step/show/html.js";
import { channelsOf } from "../../survey/channels-of.js";
import type { Campaign, Survey } from "../../survey/survey.js";
import { chainage } from "../digits.js";
import type { Findings } from "../findings.js";
import { askEach, type Link, type Readiness } from "../link.js";
import type { Work } from "../work.js";
import { allOf, without } from "./lacking.js";

export const maskLink: Link = {
  step: maskStep,
  gives: "masked",
  takes: ["drift"],
  run: ({ drift }, decided) => askEach(maskInterference, drift, decided),
  about: ({ value }) => value.label,
  readiness: { step: "interference", of: readiness },
  findings: (work) => ({
    setAside: setAside(work),
    unexplained: work.masked.flatMap(({ value }) =>
      value.unexplained.map(({ from_m, to_m }) => ({
        campaign: value.label,
        from_m: chainage(from_m),
        to_m: chainage(to_m),
      })),
    ),
    silentNotes: silentThroughout(work),
  }),
  effect: (before, after) => {
    const [was, is] = [maskedText(before), maskedText(after)];
    return was === is ? null : `${is}, instead of ${was}.`;
  },
};

function setAside({ masked }: Work): Findings["setAside"] {
  return masked.flatMap(({ value }) =>
    value.interference.map((stretch) => ({
      campaign: value.label,
      from_m: chainage(stretch.from_m),
      to_m: chainage(stretch.to_m),
      cause: stretch.cause,
      object: stretch.object,
      channels: [...stretch.channels],
      readings: stretch.readings,
      ...(stretch.jumps ? { jumps: true as const } : {}),
    })),
  );
}

type Note = Findings["silentNotes"][number];

/** Notes without a trace in any campaign that they hold for, each once. */
function silentThroughout({ masked }: Work): readonly Note[] {
  const isSame = (one: Note) => (other: Note) =>
    one.object === other.object && one.from_m === other.from_m && one.to_m === other.to_m;
  const silent = masked.flatMap(({ value }) => value.silentNotes);
  const each = silent.filter((note, i) => silent.findIndex(isSame(note)) === i);
  return each
    .filter((note) => {
      const noted = masked.filter(({ value }) => value.notes.some(isSame(note)));
      return silent.filter(isSame(note)).length >= noted.length;
    })
    .map(({ object, from_m, to_m }) => ({
      object,
      from_m: chainage(from_m),
      to_m: chainage(to_m),
    }));
}

function maskedText({ masked }: Work): string {
  const stretches = masked.reduce((sum, { value }) => sum + value.interference.length, 0);
  const accounts = masked.flatMap(({ accounting }) => accounting ?? []);
  const aside = accounts.reduce((sum, account) => sum + setAsideTotal(account), 0);
  const readings = accounts.reduce((sum, account) => sum + account.readings, 0);
  const share = ((100 * aside) / readings).toFixed(1);
  return `${countText(stretches, "stretch", "stretches")}, ${share} % of readings set aside`;
}

function readiness(survey: Survey): Readiness {
  const { campaigns, fieldNotes } = survey;
  const objects = fieldNotes.filter(({ kind }) => kind === "metal" || kind === "structure").length;
  const noInphase = (campaign: Campaign) => channelsOf(campaign, "inphase") === 0;
  const notes = objects > 0 ? countText(objects, "noted object") : "no noted objects";
  const trace = campaigns.every(noInphase) ? "no in-phase" : "in-phase beside quadrature";
  return {
    ready: campaigns.length > 0,
    text: `${notes}; ${trace}`,
    cannot: allOf(
      fieldNotes.length === 0 ? "name the objects it finds, there being no field notes" : "",
      without(survey, noInphase, "look for metal in the in-phase"),
    ),
  };
}
