import { entryOf, itemAt, valueAt } from "../../numerics/arrays.js";
import { median, quantile, sortedQuantile } from "../../numerics/statistics/robust.js";
import { listText } from "../../step/list-text.js";
import type { Campaign } from "../campaign.js";
import type { Channel } from "../instrument.js";
import type { Pass } from "../pass.js";
import { type CheckedDrift, checkedDrift } from "./checked-drift.js";

/** Places along a line with what every channel reads there. */
export interface Sample {
  readonly channels: readonly Channel[];
  /** For each channel the files that it stands in. */
  readonly sources: readonly string[];
  /** For each channel the drift that may be left in its values, channel's unit. */
  readonly wander: readonly number[];
  readonly stations: readonly Station[];
}

export interface Station {
  /**
   * For each channel the median reading near the place, channel's unit; NaN where there is none.
   */
  readonly values: readonly number[];
  /** For each channel the median height of the coils, m. */
  readonly height_m: readonly number[];
}

const STATIONS = 15;
/** Readings this near a place stand for it, m. */
const NEAR_M = 2.5;

/** Places spread evenly over the readings in use; a channel of several passes is one channel. */
export function sampleStations(campaign: Campaign): Sample {
  const { passes } = campaign;
  const columns = new Map<string, { channel: Channel; parts: Part[] }>();
  for (const pass of passes) {
    for (const [c, channel] of pass.instrument.channels.entries()) {
      const key = JSON.stringify(channel);
      const column = columns.get(key) ?? { channel, parts: [] };
      columns.set(key, column);
      column.parts.push({ pass, values: itemAt(pass.values, c), out: itemAt(pass.setAside, c) });
    }
  }
  const all = [...columns.values()];
  const channels = all.map(({ channel }) => channel);
  const drifts = channels.map(({ field }) => drifting(campaign, field));
  const stations = placesOf(passes).map((at_m): Station => {
    const rows = rowsNear(passes, at_m);
    const near = all.map(({ parts }, c) =>
      parts.map((part) => nearOf(part, { rows, drift: itemAt(drifts, c) })),
    );
    return {
      values: near.map((parts) => median(parts.flatMap(({ values }) => values))),
      height_m: near.map((parts) => median(parts.flatMap(({ height_m }) => height_m))),
    };
  });
  const sources = all.map(({ parts }) => listText(parts.map(({ pass }) => pass.file)));
  return { channels, sources, wander: drifts.map(({ left }) => left), stations };
}

/** Corrected readings keep what the correction may have left; others get it from the checks. */
function drifting(campaign: Campaign, field: string): CheckedDrift {
  const errors = campaign.passes.flatMap(({ instrument, driftSd }) =>
    instrument.channels.flatMap((channel, c) => {
      const column = channel.field === field ? driftSd?.[c] : undefined;
      return column === undefined ? [] : [quantile(column, 0.9)];
    }),
  );
  if (errors.length === 0) return checkedDrift(campaign.baseChecks, field);
  return { at: () => 0, left: 2 * Math.max(...errors) };
}

interface Part {
  readonly pass: Pass;
  readonly values: Float64Array;
  readonly out: Uint8Array;
}

function placesOf(passes: readonly Pass[]): readonly number[] {
  const chainages = passes.flatMap(({ chainage_m }) => [...chainage_m]);
  const sorted = chainages.filter((x) => !Number.isNaN(x)).sort((one, other) => one - other);
  if (sorted.length === 0) return [];
  const count = Math.min(STATIONS, sorted.length);
  return Array.from({ length: count }, (_, i) => sortedQuantile(sorted, (i + 0.5) / count));
}

/** For each pass the rows near a place. */
function rowsNear(passes: readonly Pass[], at_m: number): ReadonlyMap<Pass, readonly number[]> {
  return new Map(
    passes.map((pass) => {
      const rows: number[] = [];
      for (let i = 0; i < pass.count; i++) {
        if (Math.abs(valueAt(pass.chainage_m, i) - at_m) <= NEAR_M) rows.push(i);
      }
      return [pass, rows];
    }),
  );
}

interface Near {
  readonly rows: ReadonlyMap<Pass, readonly number[]>;
  readonly drift: CheckedDrift;
}

/** What the channel reads in the rows, and how high its coils are. */
function nearOf({ pass, values, out }: Part, { rows, drift }: Near) {
  const used = entryOf(rows, pass).filter((i) => out[i] === 0 && !Number.isNaN(valueAt(values, i)));
  return {
    values: used.map((i) => valueAt(values, i) - drift.at(valueAt(pass.time_s, i))),
    height_m: used.map((i) => valueAt(pass.height_m, i)),
  };
}
