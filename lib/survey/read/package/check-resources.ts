import { quoted } from "../../../step/step-error.js";
import type { FaultLog } from "../../check/faults.js";
import type { Descriptor, ResourceDescriptor, Role } from "./descriptor.js";
import { PACKAGE_FILE } from "./package-schema.js";

/** What must hold among the resources: names, one centreline, readings. */
export function checkResources(descriptor: Descriptor, log: FaultLog): void {
  const { resources } = descriptor;
  const all = [...resources, ...(descriptor.unsound ?? [])];
  checkOnce(resources, "name", log);
  checkOnce(resources, "path", log);
  checkBaseChecks(descriptor, log);
  const count = (role: Role) => all.filter((resource) => resource.role === role).length;
  const place = { file: PACKAGE_FILE, field: "resources" };
  const named = (role: string) => `a list with one resource of role ${role}`;
  if (count("centreline") === 0) {
    log.add({ code: "no-centreline", ...place, rule: named("centreline"), value: "none" });
  }
  if (count("centreline") > 1) {
    const value = String(count("centreline"));
    log.add({ code: "two-centrelines", ...place, rule: named("centreline"), value });
  }
  if (count("readings") === 0) {
    log.add({ code: "no-readings", ...place, rule: `${named("readings")} or more`, value: "none" });
  }
}

function checkOnce(
  resources: readonly ResourceDescriptor[],
  property: "name" | "path",
  log: FaultLog,
): void {
  for (const [i, { [property]: value }] of resources.entries()) {
    const first = resources.find((resource) => resource[property] === value);
    if (first === undefined || first === resources[i]) continue;
    const field = `resources[${i}].${property}`;
    const rule = `another ${property} than that of resource ${first.name}`;
    const fault = { code: `duplicate-${property}`, file: PACKAGE_FILE, field, rule };
    log.add({ ...fault, value: quoted(value) });
  }
}

/** Base checks belong to a campaign of the readings. */
function checkBaseChecks({ resources, unsound = [] }: Descriptor, log: FaultLog): void {
  const readings = [...resources, ...unsound].filter(({ role }) => role === "readings");
  const labels = new Set(readings.map(({ campaign }) => campaign));
  for (const [i, { role, campaign }] of resources.entries()) {
    if (role !== "base-checks" || labels.has(campaign) || readings.length === 0) continue;
    if (campaign === undefined && labels.size === 1) continue;
    const field = `resources[${i}].campaign`;
    const known = [...labels].filter((label) => label !== undefined);
    const rule = known.length === 0 ? "left out, as the readings do" : `one of ${known.join(", ")}`;
    const value = campaign === undefined ? "nothing" : quoted(campaign);
    log.add({ code: "unknown-campaign", file: PACKAGE_FILE, field, rule, value });
  }
}
