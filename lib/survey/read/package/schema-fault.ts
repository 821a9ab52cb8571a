import type { ErrorObject } from "ajv";
import { isRecord } from "./is-record.js";
import { PACKAGE_FILE } from "./package-schema.js";

/** What broke the schema, as a fault of the data package. */
export function schemaFault(error: ErrorObject, whole: unknown) {
  const missing = error.keyword === "required";
  const pointer = missing
    ? `${error.instancePath}/${error.params.missingProperty}`
    : error.instancePath;
  const field = dotted(pointer);
  const value = missing ? "nothing" : shown(error.data);
  const place = { file: PACKAGE_FILE, field: field === "" ? null : field };
  const fault = { code: codeOf(field, error.keyword), ...place };
  const hints = [hintOf(field, pointer, whole), isUnfilled(error) ? "still to fill in" : null];
  const hint = hints.filter((one) => one !== null).join("; ") || null;
  return { ...fault, rule: ruleOf(error), value, hint };
}

/** A placeholder: the property is there, and nothing in it. */
export function isUnfilled({ keyword, data }: ErrorObject): boolean {
  return keyword !== "required" && (data === null || data === "");
}

function codeOf(field: string, keyword: string): string {
  if (/channels\[\d+\]\.unit$/.test(field)) return "channel-unit";
  if (/^resources\[\d+\]\.role$/.test(field) && keyword === "enum") return "unknown-role";
  if (/^resources\[\d+\]\.path$/.test(field) && keyword === "pattern") return "unsafe-path";
  return keyword === "required" ? "missing-property" : "bad-property";
}

/** Which resource is meant, by name: a number alone is hard to find in a long file. */
function hintOf(field: string, pointer: string, whole: unknown): string | null {
  const index = /^\/resources\/(\d+)\//.exec(pointer)?.[1];
  if (index === undefined || !isRecord(whole) || !Array.isArray(whole.resources)) return null;
  const resource: unknown = whole.resources[Number(index)];
  if (!isRecord(resource) || typeof resource.name !== "string") return null;
  const channel = /channels\[(\d+)\]/.exec(field)?.[1];
  const channels = isRecord(resource.instrument) ? resource.instrument.channels : undefined;
  const entry: unknown = Array.isArray(channels) ? channels[Number(channel)] : undefined;
  const named = isRecord(entry) && typeof entry.field === "string";
  return `resource ${resource.name}${named ? `, channel ${entry.field}` : ""}`;
}

function ruleOf(error: ErrorObject): string {
  const own = error.parentSchema as Schema;
  if (error.keyword === "required") {
    const rule = schemaRule(own.properties?.[error.params.missingProperty]);
    return rule === null ? "given" : `given as ${rule}`;
  }
  const isPlain = error.keyword === "pattern" && own.description === undefined;
  if (isPlain) return "a text without control characters";
  return schemaRule(own) ?? String(error.message);
}

interface Schema {
  readonly type?: string | readonly string[];
  readonly enum?: readonly string[];
  readonly minimum?: number;
  readonly exclusiveMinimum?: number;
  readonly minItems?: number;
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
}

const typeWords: Readonly<Record<string, string>> = {
  string: "a text",
  number: "a number",
  integer: "a whole number",
  boolean: "true or false",
  array: "a list",
  object: "an object",
};

function schemaRule(schema: Schema | undefined): string | null {
  if (schema === undefined) return null;
  if (schema.description) return schema.description;
  if (schema.enum) return `one of ${schema.enum.join(", ")}`;
  if (schema.exclusiveMinimum !== undefined) return `a number above ${schema.exclusiveMinimum}`;
  if (schema.minimum !== undefined) return `a number of at least ${schema.minimum}`;
  if (schema.minItems !== undefined) return "a list with at least one entry";
  const types = typeof schema.type === "string" ? [schema.type] : (schema.type ?? []);
  return types.length === 0 ? null : types.map((type) => typeWords[type] ?? type).join(" or ");
}

function dotted(pointer: string): string {
  const parts = pointer.split("/").slice(1);
  return parts.reduce((path, part) => {
    if (/^\d+$/.test(part)) return `${path}[${part}]`;
    return path === "" ? part : `${path}.${part}`;
  }, "");
}

function shown(data: unknown): string {
  const json = JSON.stringify(data) ?? "nothing";
  return json.length > 60 ? `${json.slice(0, 57)}…` : json;
}
