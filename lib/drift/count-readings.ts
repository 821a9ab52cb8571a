import type { Accounting } from "../result/account.js";
import type { Campaign, Pass } from "../survey/survey.js";

/** What became of a campaign's readings: a row is set aside where no channel of it is in use. */
export function accountFor(campaign: Campaign): Accounting {
  const causes = new Map<string, number>();
  let [readings, corrected] = [0, 0];
  for (const pass of campaign.passes) {
    readings += pass.count;
    for (let i = 0; i < pass.count; i++) {
      const cause = causeOf(campaign, pass, i);
      if (cause !== null) causes.set(cause, (causes.get(cause) ?? 0) + 1);
      else corrected += pass.corrected[i]!;
    }
  }
  const setAside = [...causes].map(([cause, count]) => ({ cause, readings: count }));
  const out = setAside.reduce((sum, entry) => sum + entry.readings, 0);
  return { readings, kept: readings - corrected - out, corrected, setAside };
}

function causeOf({ causes }: Campaign, pass: Pass, i: number): string | null {
  const flags = pass.setAside.map((column) => column[i]!);
  const inUse = flags.some((flag, c) => flag === 0 && !Number.isNaN(pass.values[c]![i]!));
  if (inUse) return null;
  const flag = flags.find((one) => one > 0);
  return flag === undefined ? "no value" : causes[flag - 1]!.text;
}
