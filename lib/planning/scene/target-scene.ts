import { itemAt } from "../../numerics/arrays.js";
import type { TargetScene } from "../detection/test-deviation.js";
import type { PlanOptions } from "../options.js";
import type { PlanTarget } from "../plan.js";
import type { PlanGround } from "./plan-ground.js";
import { targetShare } from "./target-footprint.js";

/** The scene with readings every spacing, the target's middle `phase` of a spacing past one. */
export function sceneAt(ground: PlanGround, used: PlanOptions, phase: number): TargetScene {
  const { plain, full, target } = ground;
  const x = stationsAbout(target, used, phase);
  const m = plain.rows_ppm.length / ground.below.length;
  const channels = ground.below.map((below, c) => {
    const share = x.map(targetShare(below, target));
    const row = ({ rows_ppm }: typeof plain) => rows_ppm.subarray(c * m, (c + 1) * m);
    const change = full.response_ppm[c]! - plain.response_ppm[c]!;
    const [noise, noiseFull] = [plain.noise_ppm[c]!, full.noise_ppm[c]!];
    return {
      signal: share.map((part) => part * change),
      noise,
      noiseOver: share.map((part) => noise + part * (noiseFull - noise)),
      share,
      plain: row(plain),
      full: row(full),
    };
  });
  const correlation = used.groundLength_m / used.spacing_m;
  return { channels, ground: ground.ground_ppm2, correlation };
}

/** Chainages of the readings about the target's middle, its window on either side, m. */
export function stationsAbout(
  target: PlanTarget,
  { spacing_m, window_m }: PlanOptions,
  phase: number,
): Float64Array {
  const half = window_m + (target.kind === "lens" ? target.length_m / 2 : 0);
  const each = Math.max(1, Math.floor(half / spacing_m));
  return Float64Array.from({ length: 2 * each + 1 }, (_, i) => (i - each - phase) * spacing_m);
}

/** The part of a scene that some channels make. */
export function onlyChannels(scene: TargetScene, kept: readonly number[]): TargetScene {
  const c = scene.channels.length;
  const ground = kept.flatMap((a) => kept.map((b) => scene.ground[a * c + b]!));
  const channels = kept.map((at) => itemAt(scene.channels, at));
  return { ...scene, channels, ground: Float64Array.from(ground) };
}
