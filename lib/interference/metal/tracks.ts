import type { Campaign, Channel, Pass } from "../../survey/survey.js";

/** One line of one pass, its readings sorted by chainage. */
export interface Track {
  readonly pass: Pass;
  /** n indices of rows of the pass, by chainage. */
  readonly rows: Int32Array;
  /** n chainages, m, never falling. */
  readonly chainage_m: Float64Array;
  /** n distances from the centreline, m. */
  readonly offset_m: Float64Array;
  readonly channels: readonly Channel[];
  /** For each channel, n values; NaN where missing or set aside before. */
  readonly values: readonly Float64Array[];
}

/** The tracks of a campaign: rows with a position, parted by pass and by the name of the line. */
export function tracksOf(campaign: Campaign): readonly Track[] {
  return campaign.passes.flatMap((pass) => {
    const byLine = new Map<string, number[]>();
    for (let i = 0; i < pass.count; i++) {
      if (!Number.isFinite(pass.chainage_m[i]!)) continue;
      const line = pass.line[i]!;
      const rows = byLine.get(line);
      if (rows === undefined) byLine.set(line, [i]);
      else rows.push(i);
    }
    return [...byLine.values()].map((rows) => trackOf(pass, rows));
  });
}

function trackOf(pass: Pass, members: readonly number[]): Track {
  const byChainage = [...members].sort((a, b) => pass.chainage_m[a]! - pass.chainage_m[b]!);
  const rows = Int32Array.from(byChainage);
  const pick = (column: Float64Array) => Float64Array.from(rows, (i) => column[i]!);
  return {
    pass,
    rows,
    chainage_m: pick(pass.chainage_m),
    offset_m: pick(pass.offset_m),
    channels: pass.instrument.channels,
    values: pass.values.map((column, c) =>
      Float64Array.from(rows, (i) => (pass.setAside[c]![i] === 0 ? column[i]! : Number.NaN)),
    ),
  };
}
