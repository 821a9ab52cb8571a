import { column, geometryColumn, type StoredTable, stretchColumns } from "./stored-table.js";

const reachColumn = column("reach", "text", "Name of the reach.");

export const reachesTable: StoredTable = {
  name: "reaches",
  meaning: "Every reach of the inventory, those that failed included.",
  columns: [
    reachColumn,
    column("folder", "text", "Survey folder, relative to the inventory's."),
    column("state", "text", "interpreted, refused (its data have faults) or failed (its job did)."),
    column("why", "text", "The faults, one a line; empty where it was interpreted."),
    column("embankment", "text", "Name of the embankment."),
    column("length_m", "real", "Length, m."),
    column("campaigns", "text", "Labels of its campaigns, separated by a comma and a space."),
    column("campaign", "text", "The campaign that blocks, zones and holes rest on."),
    column("readings", "integer", "Readings that came in."),
    column("set_aside", "integer", "Readings set aside."),
    column("incidents", "integer", "Incidents of water or sand on record."),
    column("boreholes", "integer", "Boreholes that exist."),
    column("details", "text", "Further columns of the table of reaches, as JSON."),
    geometryColumn,
  ],
  key: ["reach"],
  geometry: "LineString",
};

export const classesTable: StoredTable = {
  name: "classes",
  meaning: "Classes of ground that mean the same in every reach, by depth.",
  columns: [
    column("class", "text", "Name of the class: G1, G2, …"),
    column("share", "real", "Share of the blocks."),
    column("length_m", "real", "Length of bank whose block is of the class, m."),
    column("top_m", "real", "Top of the depth column, m below the crest."),
    column("base_m", "real", "Base of the depth column, m below the crest."),
    column("log10_ohm_m", "real", "Centre of the class, log10 of ohm-m."),
    column("sd", "real", "Spread of the class's ground in this column alone, decades."),
    column("common_sd", "real", "Spread of what all columns of a block share, decades."),
  ],
  key: ["class", "top_m"],
};

export const blockClassesTable: StoredTable = {
  name: "block_classes",
  meaning: "The class over all reaches of every block of the main lines.",
  columns: [
    reachColumn,
    column("block", "text", "Name of the block in its reach."),
    ...stretchColumns,
    column("class", "text", "Class over all reaches; null where no depth is known."),
    column("probability", "real", "Probability of the class, among those found."),
    column("class_alone", "text", "The letter that the reach by itself gives."),
    geometryColumn,
  ],
  key: ["reach", "from_m", "block"],
  geometry: "LineString",
};

export const weightsTable: StoredTable = {
  name: "weights",
  meaning: "Weights of the evidence for seepage: of all reaches together, and each reach's own.",
  columns: [
    column("reach", "text", "Name of the reach; null for what is common to all."),
    column("piece", "text", "Name of the piece of evidence."),
    column("present", "real", "Weight where it is present, log-odds."),
    column("absent", "real", "Weight where it is absent, log-odds."),
    column(
      "sd",
      "real",
      "Standard deviation of present less absent, log-odds; of both if declared.",
    ),
    column("between", "real", "Standard deviation between reaches, log-odds; null if declared."),
    column("source", "text", "incidents or declared."),
  ],
  key: ["reach", "piece"],
};

export const rankingTable: StoredTable = {
  name: "ranking",
  meaning: "Seepage zones of all reaches by one measure, the strongest evidence first.",
  columns: [
    column("rank", "integer", "1 has the strongest evidence of all reaches."),
    column("rank_lo", "integer", "Low end of 80 % of the ranks under drawn weights."),
    column("rank_hi", "integer", "High end of the same."),
    column("among_first_ten", "real", "Share of the draws in which it is among the first ten."),
    column("rank_alone", "integer", "Rank by the scores that the reaches give by themselves."),
    reachColumn,
    column("zone", "integer", "Rank within the reach."),
    ...stretchColumns,
    column("score", "real", "Sum of the weights of evidence, log-odds."),
    column("probability", "real", "The score as a probability: it ranks, no more."),
    column("band", "text", "low, moderate or high."),
    column("band_kept", "real", "Share of the draws in which the band stays."),
    column("contributions", "text", "Log-odds by piece of evidence, as JSON."),
    geometryColumn,
  ],
  key: ["rank"],
  geometry: "LineString",
};

export const sharedHolesTable: StoredTable = {
  name: "shared_holes",
  meaning: "Boreholes under one budget for all reaches.",
  columns: [
    column("priority", "integer", "1 is drilled first."),
    reachColumn,
    column("chainage_m", "real", "Chainage, m."),
    column("offset_m", "real", "From the centreline, m, positive to the left."),
    column("depth_m", "real", "Depth below the ground, m."),
    column("place", "text", "crest or landside toe."),
    column("purpose", "text", "What it is for, in a few words."),
    column("reason", "text", "What it would settle."),
    column("adds_m", "real", "What it adds to those before it, m of bank as weighed."),
    column("class", "text", "Class over all reaches of the block that it meets."),
    column("class_m", "real", "The part of adds_m that its class makes."),
    geometryColumn,
  ],
  key: ["priority"],
  geometry: "Point",
};

/** The tables over all reaches, one file each. */
export const wholeTables: readonly StoredTable[] = [
  reachesTable,
  classesTable,
  blockClassesTable,
  weightsTable,
  rankingTable,
  sharedHolesTable,
];
