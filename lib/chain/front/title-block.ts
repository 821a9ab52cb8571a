import { checkedOptions } from "../../step/define-step.js";
import { customOption } from "../../step/options/kinds.js";
import type { OptionsOf } from "../../step/options/option.js";
import type { DisplayBundle } from "../../step/show/display.js";
import { escapeHtml } from "../../step/show/html.js";
import { type Given, resultValue } from "../../step/step-result.js";
import type { Contributor, Survey } from "../../survey/survey.js";

const words = (meaning: string) =>
  customOption<string>({
    default: "",
    rule: "a text",
    holds: (value) => typeof value === "string",
    meaning,
  });

const issueOptions = {
  author: words("Who answers for the interpretation."),
  client: words("Whom the appendix is for."),
  reference: words("The author's or the client's own number of it."),
  revision: words("Which issue of the appendix this is, such as A."),
  issued: words("The date of this issue."),
};

/** What only the author can say of an appendix; "" is said to be not stated. */
export interface IssueOptions extends OptionsOf<typeof issueOptions> {}

interface Entry {
  readonly label: string;
  readonly text: string;
}

/** Which bank, survey and issue an appendix is of: rows that show themselves in a notebook. */
export class TitleBlock {
  constructor(readonly entries: readonly Entry[]) {
    Object.freeze(this);
  }

  [Symbol.for("Jupyter.display")](): DisplayBundle {
    const rows = this.entries.map(({ label, text }) => {
      const shown = text === "" ? '<span class="missing">not stated</span>' : escapeHtml(text);
      return `<tr><th scope="row">${escapeHtml(label)}</th><td>${shown}</td></tr>`;
    });
    return {
      "text/html": `<table class="title-block"><tbody>${rows.join("\n")}</tbody></table>`,
      "text/plain": this.entries
        .map(({ label, text }) => `${label}: ${text || "not stated"}`)
        .join("\n"),
    };
  }
}

/**
 * The block at the head of an appendix: bank and survey from the data package (title, version,
 * created, contributors), author, client, reference, revision and date as given. What nobody states
 * is said to be not stated.
 *
 * @param given the survey, or the result of `openSurvey`
 * @param options what only the author can say, each a text
 * @throws StepError for an unknown option, or one that is no text
 * @example titleBlock(survey, { author: "A. Reed" }).entries[3].text // "A. Reed"
 */
export function titleBlock(given: Given<Survey>, options: Partial<IssueOptions> = {}): TitleBlock {
  const survey = resultValue(given);
  const issue = checkedOptions({ name: "titleBlock", options: issueOptions }, survey, options);
  const { version = "", created = "", contributors = [] } = survey.edition ?? {};
  const people = (isAuthor: boolean) =>
    contributors.filter(({ role }) => (role === "author") === isAuthor).map(contributorText);
  return new TitleBlock([
    { label: "Bank", text: bankText(survey) },
    { label: "Survey", text: survey.title },
    { label: "Campaigns", text: survey.campaigns.map(({ label }) => label).join(", ") },
    { label: "Author", text: issue.author || people(true).join("; ") },
    { label: "Survey by", text: people(false).join("; ") },
    { label: "Client", text: issue.client },
    { label: "Reference", text: issue.reference },
    { label: "Revision", text: [issue.revision, issue.issued].filter(Boolean).join(", ") },
    { label: "Data", text: [version && `version ${version}`, created].filter(Boolean).join(", ") },
  ]);
}

function bankText({ embankment, waterway, length_m }: Survey): string {
  const place = waterway === "" ? embankment : `${embankment} on the ${waterway}`;
  return `${place}, ${(length_m / 1000).toFixed(1)} km`;
}

const contributorText = ({ title, organization }: Contributor) =>
  organization === "" ? title : `${title}, ${organization}`;
