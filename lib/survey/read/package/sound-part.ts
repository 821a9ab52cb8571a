import type { ErrorObject } from "ajv";
import type { Descriptor, ResourceDescriptor } from "./descriptor.js";
import { isRecord } from "./is-record.js";
import { isUnfilled } from "./schema-fault.js";

/**
 * The package without what broke a rule: channels go alone, and so do a campaign and a height that
 * are still to fill in, so that their file is checked; a fault elsewhere takes its resource along,
 * and one among the survey's properties takes them all.
 */
export function soundPart(whole: unknown, errors: readonly ErrorObject[]): Descriptor | null {
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
