import type { Instrument } from "../../instrument.js";
import type { ROLES } from "./package-schema.js";

export type Role = (typeof ROLES)[number];

/** datapackage.json as far as it is read here. */
export interface Descriptor {
  readonly name?: string;
  readonly title?: string;
  readonly version?: string;
  readonly created?: string;
  readonly contributors?: readonly {
    readonly title: string;
    readonly role?: string;
    readonly organization?: string;
  }[];
  readonly survey?: SurveyProperties;
  readonly resources: readonly ResourceDescriptor[];
  /** Resources that broke a rule of their own and are not read, as far as they name their role. */
  readonly unsound?: readonly { readonly role: string; readonly campaign?: string }[];
}

export interface SurveyProperties {
  readonly embankment?: string;
  readonly waterway?: string;
  readonly crs?: number | string;
  /** PROJ string of a `crs` that is not built in. */
  readonly crsDefinition?: string;
  readonly crestWidth_m?: number;
  readonly crestElevation_m?: number;
  readonly foundationElevation_m?: number;
  readonly watersideSlope?: number;
  readonly landsideSlope?: number;
  readonly waterside?: "left" | "right";
  readonly designWaterLevel_m?: number;
}

export interface ResourceDescriptor {
  readonly name: string;
  readonly path: string;
  readonly role: Role;
  readonly campaign?: string;
  readonly encoding?: string;
  readonly instrument?: Instrument;
  readonly lines?: readonly LinePlacement[];
  readonly schema?: TableSchema;
  readonly dialect?: Dialect;
}

export interface LinePlacement {
  readonly line: string;
  readonly runs: "along" | "across";
  readonly chainage_m: number;
  readonly offset_m: number;
}

export interface Dialect {
  readonly delimiter?: string;
  readonly header?: boolean;
  readonly quoteChar?: string;
  readonly escapeChar?: string;
  /** Rows that begin with it are remarks. */
  readonly commentChar?: string;
  /** Blanks after a separator are no part of a cell. */
  readonly skipInitialSpace?: boolean;
}

export interface TableSchema {
  readonly fields: readonly TableField[];
  readonly missingValues?: readonly string[];
}

/** A field of Table Schema v1. */
export interface TableField {
  readonly name: string;
  readonly type?: string;
  readonly format?: string;
  readonly decimalChar?: string;
  readonly groupChar?: string;
  /** False where signs and words may stand around a number. */
  readonly bareNumber?: boolean;
  /** Of times whose format has no offset: `UTC`, `+01:00` or an IANA zone. */
  readonly timezone?: string;
  readonly trueValues?: readonly string[];
  readonly falseValues?: readonly string[];
  readonly missingValues?: readonly string[];
  readonly constraints?: {
    readonly required?: boolean;
    readonly unique?: boolean;
    readonly minimum?: number | string;
    readonly maximum?: number | string;
    readonly enum?: readonly unknown[];
  };
}
