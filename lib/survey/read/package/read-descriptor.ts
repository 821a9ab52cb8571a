import { Ajv, type ErrorObject } from "ajv";
import type { FaultLog } from "../../check/faults.js";
import type { Descriptor, ResourceDescriptor } from "./descriptor.js";
import { PACKAGE_SCHEMA } from "./package-schema.js";

export const PACKAGE_FILE = "datapackage.json";

const validate = new Ajv({ allErrors: true, verbose: true, allowUnionTypes: true }).compile(
  PACKAGE_SCHEMA,
);

/**
 * Parses and validates datapackage.json. Every fault goes to the log; resources without a fault of
 * their own are handed on, so that their files are checked as well. Null where nothing is readable.
 */
export function readDescriptor(json: string, log: FaultLog): Descriptor | null {
  const parsed = parseJson(json, log);
  if (parsed === undefined) return null;
  const whole = withSinglePaths(parsed);
  if (validate(whole)) return whole as Descriptor;
  const errors = (validate.errors ?? []).filter((error) => error.keyword !== "if");
  const seen = new Set<string>();
  for (const error of errors) {
    const fault = schemaFault(error, whole);
    const key = JSON.stringify(fault);
    if (!seen.has(key)) log.add(fault);
    seen.add(key);
  }
  return soundPart(whole, errors);
}

function parseJson(json: string, log: FaultLog): unknown {
  try {
    return JSON.parse(json);
  } catch (error) {
    const value = error instanceof Error ? error.message : String(error);
    log.add({ code: "invalid-json", file: PACKAGE_FILE, rule: "valid JSON", value });
    return undefined;
  }
}

/** Data Package v1 allows a list of paths; a list of one is taken as that path. */
function withSinglePaths(whole: unknown): unknown {
  if (!isRecord(whole) || !Array.isArray(whole.resources)) return whole;
  const resources = whole.resources.map((resource: unknown) => {
    if (!isRecord(resource) || !Array.isArray(resource.path)) return resource;
    return resource.path.length === 1 ? { ...resource, path: resource.path[0] } : resource;
  });
  return { ...whole, resources };
}

function schemaFault(error: ErrorObject, whole: unknown) {
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
function isUnfilled({ keyword, data }: ErrorObject): boolean {
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

/**
 * The package without what broke a rule: channels go alone, and so do a campaign and a height that
 * are still to fill in, so that their file is checked; a fault elsewhere takes its resource along,
 * and one among the survey's properties takes them all.
 */
function soundPart(whole: unknown, errors: readonly ErrorObject[]): Descriptor | null {
  if (!isRecord(whole) || !Array.isArray(whole.resources)) return null;
  const alone = /^\/resources\/\d+\/(campaign|instrument\/height_m)$/;
  const places = errors
    .filter((error) => !(isUnfilled(error) && alone.test(error.instancePath)))
    .map(({ instancePath }) => instancePath);
  const channel = /^\/resources\/\d+\/instrument\/channels\/\d+/;
  const isBad = (_: unknown, i: number) =>
    places.some((place) => startsWith(place, `/resources/${i}`) && !channel.test(place));
  const resources = whole.resources.map((resource, i) => withoutChannels(resource, i, places));
  const { survey, ...rest } = whole;
  const surveyIsSound = !places.some((place) => startsWith(place, "/survey"));
  const sound = surveyIsSound && survey !== undefined ? { ...rest, survey } : rest;
  return {
    ...sound,
    resources: resources.filter((resource, i) => !isBad(resource, i)) as ResourceDescriptor[],
    unsound: resources.filter(isBad).filter(isRecord).map(named),
  };
}

function startsWith(place: string, start: string): boolean {
  return place === start || place.startsWith(`${start}/`);
}

function withoutChannels(resource: unknown, index: number, places: readonly string[]): unknown {
  if (!isRecord(resource) || !isRecord(resource.instrument)) return resource;
  const { channels } = resource.instrument;
  if (!Array.isArray(channels)) return resource;
  const start = `/resources/${index}/instrument/channels`;
  const sound = channels.filter((_, c) => !places.some((at) => startsWith(at, `${start}/${c}`)));
  return { ...resource, instrument: { ...resource.instrument, channels: sound } };
}

function named({ role, campaign }: Record<string, unknown>) {
  return { role: String(role), ...(typeof campaign === "string" ? { campaign } : {}) };
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

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
