import { createRequire } from "node:module";
import type { ValidateFunction } from "ajv";
import type { FaultLog } from "../../check/faults.js";
import type { Descriptor } from "./descriptor.js";
import { jsonOf } from "./folder.js";
import { isRecord } from "./is-record.js";
import { PACKAGE_FILE, PACKAGE_SCHEMA } from "./package-schema.js";
import { schemaFault } from "./schema-fault.js";
import { soundPart } from "./sound-part.js";

const requireHere = createRequire(import.meta.url);
let validator: ValidateFunction<Descriptor> | null = null;

// The schema takes as long to compile as half the library to load: only where a folder is read.
function descriptorValidator(): ValidateFunction<Descriptor> {
  if (validator !== null) return validator;
  const { Ajv } = requireHere("ajv") as typeof import("ajv");
  const options = { allErrors: true, verbose: true, allowUnionTypes: true };
  validator = new Ajv(options).compile<Descriptor>(PACKAGE_SCHEMA);
  return validator;
}

/**
 * Parses and validates datapackage.json. Every fault goes to the log; resources without a fault of
 * their own are handed on, so that their files are checked as well. Null where nothing is readable.
 */
export function readDescriptor(json: string, log: FaultLog): Descriptor | null {
  const parsed = jsonOf(json, PACKAGE_FILE, log);
  if (parsed === undefined) return null;
  const whole = withSinglePaths(parsed);
  const validate = descriptorValidator();
  if (validate(whole)) return whole;
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

/** Data Package v1 allows a list of paths; a list of one is taken as that path. */
function withSinglePaths(whole: unknown): unknown {
  if (!isRecord(whole) || !Array.isArray(whole.resources)) return whole;
  const resources = whole.resources.map((resource: unknown) => {
    if (!isRecord(resource) || !Array.isArray(resource.path)) return resource;
    return resource.path.length === 1 ? { ...resource, path: resource.path[0] } : resource;
  });
  return { ...whole, resources };
}
