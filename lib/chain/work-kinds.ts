import { Decision } from "../step/decision.js";
import type { StepAccount } from "../step/step-account.js";
import { StepResult } from "../step/step-result.js";
import type { ParcelKind } from "../step/threads/parcel.js";
import {
  type CrossSectionTable,
  crossSectionAlong,
  crossSectionTable,
} from "../survey/bank/cross-section-along.js";

/** What a work holds beside plain data. A step is run again without the figures of those before it. */
export const workKinds: readonly ParcelKind[] = [
  {
    name: "result",
    pack: (value) =>
      value instanceof StepResult ? { ...value, figures: [], tables: [] } : undefined,
    unpack: (account: StepAccount<unknown>) => new StepResult(account),
  },
  {
    name: "decision",
    pack: (value) => (value instanceof Decision ? { ...value } : undefined),
    unpack: (sent: object) => Object.assign(Object.create(Decision.prototype) as object, sent),
  },
  {
    name: "cross-section",
    pack: crossSectionTable,
    unpack: (table: CrossSectionTable) => crossSectionAlong(table),
  },
];
