import { setImmediate as turn } from "node:timers/promises";
import { lastOf } from "../../numerics/arrays.js";
import { type Random, seededRandom } from "../../numerics/random.js";
import { median } from "../../numerics/statistics/robust.js";
import { invertSectionFaults } from "../check-line.js";
import { invertedSection } from "../inverted-section.js";
import { invertSectionDefaults } from "../section-options.js";
import { sectionResponse } from "../section-response.js";
import { ARRAYS, arraySpreads, lineLayout, minutesOf, type PlannedArrayName } from "./layout.js";
import type { LinePlan, LineTarget, PlannedArray, TypicalTrial } from "./line-plan.js";
import type { PlanLineOptions } from "./options.js";
import { NOT_RECOVERED, type Recovery, recoveryOf } from "./recovery.js";
import { type TrialGround, trialEarth, trialGround } from "./trial-ground.js";
import { trialLine } from "./trial-line.js";

/** A plan, and a trial of the best array that is as good as the median. */
export interface PlannedLine {
  readonly plan: LinePlan;
  /** Null where no trial left readings enough. */
  readonly typical: TypicalTrial | null;
}

interface Trial {
  readonly recovery: Recovery;
  readonly shown: TypicalTrial | null;
}

export async function plannedLine(target: LineTarget, used: PlanLineOptions): Promise<PlannedLine> {
  const layout = lineLayout(target, used);
  const names = used.array === "compared" ? ARRAYS : [used.array];
  const spreads = names.map((name) => arraySpreads(name, layout, target));
  const trials: Trial[][] = names.map(() => []);
  for (let trial = 0; trial < used.trials; trial++) {
    // Far below the step between two seeds of a user's.
    const random = seededRandom(used.seed + trial / 1024);
    const ground = trialGround(target, layout, { used, random });
    const earth = trialEarth(ground, layout, target);
    const fine = { cellsPerSpacing: FINE };
    const answers = sectionResponse(earth, layout.electrodes, spreads.flat(), fine);
    for (const [which, own] of spreads.entries()) {
      const apparent_ohm_m = answers.splice(0, own.length);
      const line = trialLine(layout, { spreads: own, apparent_ohm_m }, { used, random });
      trials[which]?.push(await trialOf(line, { ground, target, random }));
      used.progress?.(trial * names.length + which + 1, used.trials * names.length);
      await turn();
    }
  }
  const arrays = names.map((array, which) =>
    plannedArray(trials[which] ?? [], {
      ...{ array, readings: spreads[which]?.length ?? 0, used },
      electrodes: layout.electrodes.length,
    }),
  );
  const best = bestOf(arrays);
  const ofBest = trials[arrays.indexOf(best)] ?? [];
  const electrodes = layout.electrodes.length;
  const plan = { target, ...layoutOf(layout.spacing_m, electrodes), best, arrays };
  return { plan, typical: typicalOf(ofBest, best.overlap) };
}

/** Grid cells a spacing of the ground that is measured; inversions take fewer. */
const FINE = 3;
const DRAWS = 60;

async function trialOf(
  line: ReturnType<typeof trialLine>,
  given: { readonly ground: TrialGround; readonly target: LineTarget; readonly random: Random },
): Promise<Trial> {
  const { ground, target, random } = given;
  const settings = { ...invertSectionDefaults, draws: DRAWS, seed: random.integer(2 ** 31) };
  if (invertSectionFaults(line, settings).length > 0) {
    return { recovery: NOT_RECOVERED, shown: null };
  }
  const { section } = await invertedSection(line, settings);
  const { from_m, to_m, truth } = ground;
  return { recovery: recoveryOf(section, ground, target), shown: { section, from_m, to_m, truth } };
}

function layoutOf(spacing_m: number, electrodes: number) {
  return { spacing_m, electrodes, length_m: spacing_m * (electrodes - 1) };
}

function plannedArray(
  trials: readonly Trial[],
  given: {
    readonly array: PlannedArrayName;
    readonly readings: number;
    readonly electrodes: number;
    readonly used: PlanLineOptions;
  },
): PlannedArray {
  const { array, readings, electrodes, used } = given;
  const recovered = trials.filter(({ recovery }) => recovery.overlap >= used.overlap).length;
  const middle = (of: keyof Recovery) => median(trials.map(({ recovery }) => recovery[of]));
  return {
    ...{ array, readings, trials: trials.length, recovered },
    minutes: minutesOf(readings, electrodes, used),
    ...probabilityOf(recovered, trials.length),
    ...{ overlap: middle("overlap"), reliable: middle("reliable"), contrast: middle("contrast") },
  };
}

const Z_80 = 1.2816;

/** The share, with the 80 % interval of Wilson 1927. */
function probabilityOf(found: number, count: number) {
  const share = found / count;
  const z2 = Z_80 ** 2 / count;
  const middle = (share + z2 / 2) / (1 + z2);
  const half = Math.sqrt(z2 * (share * (1 - share) + z2 / 4)) / (1 + z2);
  const interval = [Math.max(0, middle - half), Math.min(1, middle + half)] as const;
  return { probability: share, interval };
}

/** Most recovered, of equals the quicker. */
function bestOf(arrays: readonly PlannedArray[]): PlannedArray {
  const better = (one: PlannedArray, other: PlannedArray) =>
    one.recovered - other.recovered || other.minutes - one.minutes;
  return lastOf([...arrays].sort(better));
}

function typicalOf(trials: readonly Trial[], overlap: number): TypicalTrial | null {
  const away = ({ recovery }: Trial) => Math.abs(recovery.overlap - overlap);
  const shown = trials.filter((trial) => trial.shown !== null);
  return shown.sort((one, other) => away(one) - away(other))[0]?.shown ?? null;
}
