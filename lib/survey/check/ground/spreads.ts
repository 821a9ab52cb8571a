import { neighbours } from "../../../numerics/arrays.js";
import { median } from "../../../numerics/statistics/robust.js";
import { countText } from "../../../step/show/html.js";
import type { ResistivityLine, ResistivityReading } from "../../resistivity-line.js";
import type { FaultLog } from "../faults.js";

interface About {
  readonly file: string;
  readonly log: FaultLog;
}

/** Electrodes are laid closer than this, m, and ground is less steep than 1 in 1. */
const WIDEST_M = 30;
const STEEPEST = 1;
const STEP_M = 1;

/** Notes electrodes that are out of order, far apart or above each other. */
export function noteElectrodes({ line, electrodes }: ResistivityLine, { file, log }: About): void {
  const pairs = neighbours(electrodes);
  const note = (text: string) => log.caution(`${file}: line ${line}: ${text}`);
  const steps_m = pairs.map(([one, other]) => other.x_m - one.x_m);
  if (steps_m.some((step) => step > 0) && steps_m.some((step) => step < 0)) {
    note("x_m does not rise with the electrodes' numbers");
  }
  const typical_m = median(steps_m.map(Math.abs));
  if (typical_m > WIDEST_M) note(`electrodes are ${typical_m} m apart; in m?`);
  const steep = pairs.find(([one, other]) => {
    const rise_m = Math.abs(other.elevation_m - one.elevation_m);
    return rise_m > STEP_M && rise_m > STEEPEST * Math.abs(other.x_m - one.x_m);
  });
  if (steep === undefined) return;
  const [one, other] = steep;
  const levels = `${one.elevation_m} and ${other.elevation_m} m`;
  note(`electrodes ${one.electrode} and ${other.electrode} stand at ${levels}; which is off?`);
}

/** Apparent resistivities of ground lie within these, ohm-m (common practice). */
const LEAST_OHM_M = 0.5;
const MOST_OHM_M = 1e4;
const POOR_DEVIATION_PCT = 50;

/** Notes a line whose readings are no ground's: their size, their sign, their scatter, copies. */
export function noteSpreads(line: ResistivityLine, { file, log }: About): void {
  const { readings } = line;
  if (readings.length === 0) return;
  const note = (text: string) => log.caution(`${file}: line ${line.line}: ${text}`);
  const apparent = readings.map((reading) => apparentOf(line, reading));
  const known = apparent.filter((value) => Number.isFinite(value));
  const typical = median(known.map(Math.abs));
  if (typical === 0) note("every voltage is 0");
  else if (typical < LEAST_OHM_M || typical > MOST_OHM_M) {
    const rounded = Number(typical.toPrecision(2));
    const size = rounded < 1 ? String(rounded) : rounded.toLocaleString("en");
    note(
      `apparent resistivities of ${size} ohm-m in the median; are mA, mV and x_m in their units?`,
    );
  }
  const negative = known.filter((value) => value < 0).length;
  if (2 * negative > known.length) {
    note(
      `${negative} of ${known.length} apparent resistivities are below 0; is the polarity turned?`,
    );
  }
  const deviation_pct = median(readings.map((reading) => reading.deviation_pct));
  if (deviation_pct > POOR_DEVIATION_PCT) {
    note(`readings deviate by ${deviation_pct} % in the median`);
  }
  const again = readings.length - new Set(readings.map(keyOf)).size;
  if (again > 0) note(`${countText(again, "reading")} given twice, number for number`);
}

function keyOf({ row: _, ...reading }: ResistivityReading): string {
  return JSON.stringify(reading);
}

/** On flat ground of one resistivity (Koefoed 1979), by distances along x. */
function apparentOf({ electrodes }: ResistivityLine, reading: ResistivityReading): number {
  const places = new Map(electrodes.map(({ electrode, x_m }) => [electrode, x_m]));
  const inverse = (one: number, other: number) => {
    if (one === 0 || other === 0) return 0;
    return 1 / Math.abs((places.get(one) ?? Number.NaN) - (places.get(other) ?? Number.NaN));
  };
  const { a, b, m, n, voltage_mV, current_mA } = reading;
  const sum = inverse(a, m) - inverse(b, m) - inverse(a, n) + inverse(b, n);
  return ((2 * Math.PI) / sum) * (voltage_mV / current_mA);
}
