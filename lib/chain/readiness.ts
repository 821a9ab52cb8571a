import { channelsOf } from "../survey/channels-of.js";
import type { Campaign, Survey } from "../survey/survey.js";

/** What one step will have to work with. */
export interface StepOutlook {
  readonly step:
    | "drift"
    | "interference"
    | "depth"
    | "blocks"
    | "campaigns"
    | "sections"
    | "seepage"
    | "boreholes";
  /** False where the step has nothing to work with. */
  readonly ready: boolean;
  readonly text: string;
  /** What it cannot do for want of data; "" where nothing is lacking. */
  readonly cannot: string;
}

/** What each step will have to work with, or why it has nothing. */
export function outlook(survey: Survey): readonly StepOutlook[] {
  const lacking = lacks(survey);
  return outlooks(survey).map((one) => ({ ...one, cannot: lacking[one.step] ?? "" }));
}

/** What each step cannot do with this survey. */
function lacks(survey: Survey): Readonly<Partial<Record<StepOutlook["step"], string>>> {
  const { campaigns } = survey;
  const without = (isLacking: (campaign: Campaign) => boolean, text: string) => {
    const labels = campaigns.filter(isLacking).map(({ label }) => label);
    return labels.length === 0 ? "" : `${text} (${listed(labels)})`;
  };
  const joined = (...parts: readonly string[]) => parts.filter((part) => part !== "").join("; ");
  const noBase = ({ baseChecks }: Campaign) => baseChecks.length === 0;
  const noInphase = (campaign: Campaign) => channelsOf(campaign, "inphase") === 0;
  const fewChannels = (campaign: Campaign) =>
    channelsOf(campaign, "quadrature") + channelsOf(campaign, "conductivity") < 3;
  const cold = ({ soilTemperature }: Campaign) => soilTemperature.length === 0;
  const shape = survey.crossSectionAt(survey.centreline.chainage_m[0]!);
  return {
    drift: without(noBase, "tell drift from the ground but where passes overlap"),
    interference: joined(
      survey.fieldNotes.length === 0 ? "name the objects it finds, there being no field notes" : "",
      without(noInphase, "look for metal in the in-phase"),
    ),
    depth: without(fewChannels, "tell more depths apart than it has channels, fewer than three"),
    campaigns: joined(
      campaigns.length < 2 ? "look for change" : "",
      without(cold, "bring the campaigns to 25 °C by soil temperatures"),
    ),
    sections: survey.resistivityLines.length === 0 ? "compare with a second method" : "",
    seepage: joined(
      survey.waterLevels.length === 0 && survey.designWaterLevel_m === null
        ? "work out a head across the bank"
        : "",
      shape.crestElevation_m === null || shape.foundationElevation_m === null
        ? "work out exit gradients, the cross-section being unknown"
        : "",
      survey.incidents.length === 0 ? "hear past seepage as evidence" : "",
    ),
    boreholes: survey.boreholes.some(({ strata }) => strata.length > 0)
      ? ""
      : "name classes of ground by local boreholes",
  };
}

function outlooks(survey: Survey): readonly Omit<StepOutlook, "cannot">[] {
  const has = survey.campaigns.length > 0;
  return [
    drift(survey),
    interference(survey),
    depth(survey),
    { step: "blocks", ready: has, text: has ? "the depth slices of each campaign" : "no readings" },
    comparison(survey),
    sections(survey),
    seepage(survey),
    boreholes(survey),
  ];
}

function drift({ campaigns }: Survey): Omit<StepOutlook, "cannot"> {
  const checked = campaigns.filter(({ baseChecks }) => baseChecks.length > 0);
  const parts = campaigns.map(({ label, baseChecks }) =>
    baseChecks.length > 0
      ? `${baseChecks.length} base checks in ${label}`
      : `no base checks in ${label}, whose drift cannot be seen`,
  );
  return { step: "drift", ready: checked.length > 0, text: listed(parts) };
}

function interference({ campaigns, fieldNotes }: Survey): Omit<StepOutlook, "cannot"> {
  const objects = fieldNotes.filter(({ kind }) => kind === "metal" || kind === "structure").length;
  const inphase = campaigns.some((campaign) => channelsOf(campaign, "inphase") > 0);
  const notes = objects > 0 ? count(objects, "noted object") : "no noted objects";
  const trace = inphase ? "in-phase beside quadrature" : "no in-phase";
  return { step: "interference", ready: campaigns.length > 0, text: `${notes}; ${trace}` };
}

function depth({ campaigns }: Survey): Omit<StepOutlook, "cannot"> {
  const parts = campaigns.map((campaign) => {
    const sounding = channelsOf(campaign, "quadrature") + channelsOf(campaign, "conductivity");
    return `${count(sounding, "channel")} in ${campaign.label}`;
  });
  const ready = campaigns.some(
    (campaign) => channelsOf(campaign, "quadrature") + channelsOf(campaign, "conductivity") > 0,
  );
  const text = ready ? `quadrature or conductivity: ${listed(parts)}` : "no channel to sound with";
  return { step: "depth", ready, text };
}

function comparison({ campaigns }: Survey): Omit<StepOutlook, "cannot"> {
  if (campaigns.length < 2) {
    const text = `${count(campaigns.length, "campaign")}; a comparison takes two`;
    return { step: "campaigns", ready: false, text };
  }
  const cold = campaigns.filter(({ soilTemperature }) => soilTemperature.length === 0);
  const temperature =
    cold.length === 0
      ? "with soil temperatures"
      : `no soil temperatures for ${listed(cold.map(({ label }) => label))}`;
  const text = `${campaigns.length} campaigns; ${temperature}`;
  return { step: "campaigns", ready: true, text };
}

const NOT_YET = "not worked out in this version";

function sections({ resistivityLines }: Survey): Omit<StepOutlook, "cannot"> {
  const measured = resistivityLines.filter(({ readings }) => readings.length > 0);
  if (measured.length === 0) {
    return { step: "sections", ready: false, text: "no resistivity lines with readings" };
  }
  const parts = measured.map(
    ({ line, readings }) => `${line} (${count(readings.length, "reading")})`,
  );
  return { step: "sections", ready: false, text: `${listed(parts)}; read, but ${NOT_YET}` };
}

function seepage(survey: Survey): Omit<StepOutlook, "cannot"> {
  const { waterLevels, designWaterLevel_m, incidents, campaigns, centreline } = survey;
  const shape = survey.crossSectionAt(centreline.chainage_m[0]!);
  const parts = [
    waterLevels.length > 0 ? count(waterLevels.length, "water level") : "no water levels",
    designWaterLevel_m === null ? "no design water level" : "a design water level",
    shape.crestElevation_m === null ? "no crest elevation" : "a cross-section",
    incidents.length > 0 ? count(incidents.length, "incident") : "no incidents",
  ];
  return { step: "seepage", ready: campaigns.length > 0, text: listed(parts) };
}

function boreholes({ boreholes: holes }: Survey): Omit<StepOutlook, "cannot"> {
  const logged = holes.filter(({ strata }) => strata.length > 0).length;
  const text =
    holes.length > 0
      ? `${count(holes.length, "borehole")}, ${logged} with strata, to name classes by`
      : "no boreholes; classes cannot be named from local ground";
  return { step: "boreholes", ready: false, text: `${text}; sites are ${NOT_YET}` };
}

function count(n: number, noun: string): string {
  return `${n.toLocaleString("en")} ${noun}${n === 1 ? "" : "s"}`;
}

function listed(parts: readonly string[]): string {
  return parts.join(", ");
}
