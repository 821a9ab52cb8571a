import { chance, wander } from "./chance.js";
import type { CampaignFacts } from "./facts.js";

/** A day in the field: when the base checks were made and where the walker was at each reading. */

export interface Station {
  readonly time_ms: number;
  readonly chainage_m: number;
  /** Of the walker from the centreline, positive to the left. */
  readonly offset_m: number;
  /** Of the coils above their nominal height; nobody records it. */
  readonly wobble_m: number;
}

export type Orientation = "HCP" | "VCP";

export interface FieldDay {
  readonly start_ms: number;
  readonly battery_ms: number;
  readonly end_ms: number;
  /** Instants at which base checks begin. */
  readonly checks_ms: readonly number[];
  readonly stations: Readonly<Record<Orientation, readonly Station[]>>;
}

/** The base spot B0 lies on the landside berm beside this chainage. */
export const BASE_CHAINAGE_M = 1206;
const BATTERY_CHAINAGE_M = 1463;
const PACE_M_PER_S = 1.2;
/** Readings of one orientation, a minute to turn the coils, readings of the other. */
const CHECK_S = 20 + 60 + 20;
export const CHECK_TURN_S = 80;

export function fieldDay(campaign: CampaignFacts): FieldDay {
  const start_ms = Date.parse(campaign.start);
  const day = new Diary(campaign.label, start_ms);
  day.check();
  day.pause(11 * 60);
  day.walk("HCP", 0.7, BASE_CHAINAGE_M);
  day.pause(95);
  day.check();
  day.pause(110);
  day.walk("HCP", BASE_CHAINAGE_M, 2399.2);
  day.pause(7 * 60);
  day.check();
  day.pause(8 * 60);
  day.walk("VCP", 2399.2, BATTERY_CHAINAGE_M);
  day.pause(4 * 60);
  day.check();
  day.pause(150);
  const battery_ms = day.now_ms;
  day.pause(210);
  day.check();
  day.pause(4 * 60);
  day.walk("VCP", BATTERY_CHAINAGE_M, 0.7);
  day.pause(9 * 60);
  day.check();
  const { checks_ms, stations } = day;
  return { start_ms, battery_ms, end_ms: day.now_ms, checks_ms, stations };
}

class Diary {
  readonly checks_ms: number[] = [];
  readonly stations: Record<Orientation, Station[]> = { HCP: [], VCP: [] };
  readonly #label: string;
  now_ms: number;

  constructor(label: string, start_ms: number) {
    this.#label = label;
    this.now_ms = start_ms;
  }

  pause(seconds: number): void {
    this.now_ms += 1000 * seconds;
  }

  check(): void {
    this.checks_ms.push(this.now_ms);
    this.pause(CHECK_S);
  }

  walk(orientation: Orientation, from_m: number, to_m: number): void {
    const part = `${this.#label}-${orientation}-${from_m}`;
    const random = chance(`walk-${part}`);
    const pace = wander(chance(`pace-${part}`), 0.06, 25);
    const aside = wander(chance(`aside-${part}`), 0.22, 15);
    const height = wander(chance(`height-${part}`), 0.007, 1.5);
    const way = Math.sign(to_m - from_m);
    for (let chainage_m = from_m; way * (to_m - chainage_m) > 0; ) {
      const step_s = 1 + 0.02 * random.normal();
      const wobble_m = Math.min(0.02, Math.max(-0.02, height(step_s)));
      const offset_m = aside(step_s);
      const place = { time_ms: this.now_ms, chainage_m, offset_m, wobble_m };
      this.stations[orientation].push(place);
      chainage_m += way * step_s * PACE_M_PER_S * (1 + pace(step_s));
      this.pause(step_s);
    }
  }
}
