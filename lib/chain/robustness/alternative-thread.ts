import { itemAt } from "../../numerics/arrays.js";
import type { Parcel } from "../../step/threads/parcel.js";
import { unpacked } from "../../step/threads/parcel.js";
import { standardLinks } from "../standard-links.js";
import type { Work } from "../work.js";
import { workKinds } from "../work-kinds.js";
import { type AlternativeTask, type Effect, effectOf } from "./alternative-effect.js";

const works = new WeakMap<Parcel, Work>();

/** In a thread: what alternatives together make different of the standard chain's work. */
export async function answer(parcel: Parcel, tasks: readonly AlternativeTask[]): Promise<Effect> {
  const work = works.get(parcel) ?? (unpacked(parcel, workKinds) as Work);
  works.set(parcel, work);
  const tried = tasks.map(({ decision, alternative }) => ({
    decision: itemAt(work.decisions, decision),
    alternative,
  }));
  return effectOf(standardLinks, work, tried);
}
