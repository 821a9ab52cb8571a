import { greys } from "../../figures/theme.js";
import { fateOf } from "../../survey/account/reading-status.js";
import { positionAt } from "../../survey/bank/position.js";
import type { Grid } from "../../survey/bank/projection.js";
import type { Campaign, Channel, Pass } from "../../survey/survey.js";
import { positionWord } from "../position-word.js";
import { field, known, type Layer, type LayerFeature, type LayerValue } from "./layer.js";

const own = [
  field("campaign", "text", ["Campaign"]),
  field("file", "text", ["File", "File of the survey folder that the reading stands in."]),
  field("row", "integer", ["Row", "Line of that file; the header is line 1."]),
  field("line", "text", ["Walked line", "Name of the walked line as the file has it."]),
  field("time", "time", ["Time", "When it was read, UTC."]),
  field("chainage_m", "real", ["Chainage (m)", "Along the centreline from its start, m."]),
  field("offset_m", "real", ["Offset (m)", "From the centreline, m, positive to the left."]),
  field("height_m", "real", ["Height (m)", "Of the coils above the ground, m."]),
  field("position", "text", ["Position", "measured, bridged over a gap by time, or none."]),
  field("fate", "text", ["Fate", "kept, corrected or set aside."]),
  field("cause", "text", ["Cause", "Why the reading is set aside; empty where it is in use."]),
  field("channels_set_aside", "text", [
    "Channels set aside",
    "Channels set aside of a reading that is in use all the same.",
  ]),
] as const;

/** Every reading of every campaign and line, with its values as the steps left them. */
export function readingsLayer(campaigns: readonly Campaign[]): Layer {
  const channels = channelColumns(campaigns);
  return {
    name: "readings",
    title: "Readings",
    description:
      "Every reading of every campaign, set aside or not, with its values as the steps left them.",
    geometry: "Point",
    fields: [
      ...own,
      ...channels.map(({ name, channel }) => field(name, "real", [name, channelText(channel)])),
    ],
    features: campaigns.flatMap((campaign) =>
      campaign.passes.flatMap((pass, p) =>
        Array.from({ length: pass.count }, (_, row) => featureOf({ campaign, p, row }, channels)),
      ),
    ),
    style: {
      by: "fate",
      rules: [
        { value: "kept", colour: greys.text },
        { value: "corrected", colour: greys.quiet },
        { value: "set aside", colour: greys.bandEdge },
      ],
      size_px: 4,
    },
  };
}

interface ChannelColumn {
  readonly name: string;
  readonly channel: Channel;
}

/** A column for each channel field; SQL does not tell names apart by the case of letters. */
function channelColumns(campaigns: readonly Campaign[]): readonly ChannelColumn[] {
  const passes = campaigns.flatMap((campaign) => campaign.passes);
  const found = new Map(
    passes.flatMap(({ instrument }) => instrument.channels.map((one) => [one.field, one])),
  );
  const taken = new Set<string>(["fid", "geom", ...own.map(({ name }) => name)]);
  return [...found.values()].map((channel) => {
    let name = channel.field;
    while (taken.has(name.toLowerCase())) name = `${name}_`;
    taken.add(name.toLowerCase());
    return { name, channel };
  });
}

function channelText({ kind, unit, frequency_Hz, separation_m, orientation }: Channel): string {
  const coils = `${orientation} coils ${separation_m} m apart, ${frequency_Hz} Hz`;
  return `${kind}, ${unit}, ${coils}; as the steps left it, drift taken off where it was corrected.`;
}

interface Place {
  readonly campaign: Campaign;
  readonly p: number;
  readonly row: number;
}

function featureOf({ campaign, p, row }: Place, columns: readonly ChannelColumn[]): LayerFeature {
  const pass = campaign.passes[p] as Pass;
  const { fate, cause, channels } = fateOf(campaign, p, row);
  const time_s = known(pass.time_s[row]);
  const values: LayerValue[] = [
    campaign.label,
    pass.file,
    known(pass.row[row]),
    pass.line[row] ?? null,
    time_s === null ? null : new Date(Math.round(1000 * time_s)).toISOString(),
    cut(pass.chainage_m[row], 100),
    cut(pass.offset_m[row], 100),
    known(pass.height_m[row]),
    positionWord(pass, row),
    fate,
    cause,
    fate === "set aside" ? "" : channels.join(" "),
  ];
  const fields = pass.instrument.channels.map((channel) => channel.field);
  const readings = columns.map(({ channel }) => {
    const c = fields.indexOf(channel.field);
    return c < 0 ? null : cut(pass.values[c]?.[row], 1e4);
  });
  return { places: placesOf(campaign, pass, row), values: [...values, ...readings] };
}

/** As measured; where it was bridged, at its chainage. */
function placesOf(campaign: Campaign, pass: Pass, row: number): readonly Grid[] {
  const measured = { easting_m: pass.easting_m[row], northing_m: pass.northing_m[row] };
  if (known(measured.easting_m) !== null && known(measured.northing_m) !== null) {
    return [measured as Grid];
  }
  const chainage_m = known(pass.chainage_m[row]);
  if (chainage_m === null) return [];
  return [positionAt(campaign.centreline, chainage_m, known(pass.offset_m[row]) ?? 0)];
}

/** To a whole share of the unit. */
function cut(value: number | undefined, perUnit: number): number | null {
  const sure = known(value);
  return sure === null ? null : Math.round(sure * perUnit) / perUnit;
}
