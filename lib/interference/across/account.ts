import type { StepReport } from "../../step/define-step.js";
import type { Basis } from "../../step/step-account.js";
import { accountFor } from "../../survey/account/reading-status.js";
import type { Masked } from "../masked.js";
import type { InterferenceAcross } from "./stretches-across.js";
import { acrossTable } from "./tables.js";

/** The account of `compareInterference`. */
export function acrossReport(
  value: readonly InterferenceAcross[],
  _: object,
  campaigns: readonly Masked[],
): StepReport<readonly InterferenceAcross[]> {
  return {
    value,
    summary: summaryOf(value, campaigns.length),
    basis: BASIS,
    cautions: value.flatMap(cautionsOf),
    accounting: accountFor(campaigns),
    tables: [acrossTable(value)],
  };
}

const BASIS: readonly Basis[] = [
  {
    statement: "An object that stays shows in every campaign; one that does not came or went.",
    source: "common practice",
  },
];

function summaryOf(value: readonly InterferenceAcross[], campaigns: number): string {
  const fixed = value.filter(({ verdict }) => verdict === "fixed").length;
  const moved = value.filter(({ absentIn }) => absentIn.length > 0).length;
  return (
    `Of ${value.length} disturbed stretches in ${campaigns} campaigns, ${fixed} stay and ` +
    `${moved} came or went.`
  );
}

function cautionsOf(one: InterferenceAcross): readonly string[] {
  const where = `${one.from_m.toFixed(1)}–${one.to_m.toFixed(1)} m`;
  const what = one.object === "" ? "something that nobody noted" : one.object;
  const texts: string[] = [];
  if (one.absentIn.length > 0) {
    texts.push(
      `${where}: ${what} shows in ${one.seenIn.join(", ")} and not in ` +
        `${one.absentIn.join(", ")}; a change of the ground there cannot be told from it.`,
    );
  }
  if (one.object === "" && one.verdict === "fixed") {
    texts.push(
      `${where}: every campaign shows metal and no note explains it: a fixed object; look.`,
    );
  }
  return texts;
}
