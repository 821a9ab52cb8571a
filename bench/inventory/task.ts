// One measured task in a process of its own: its last line tells seconds, processor seconds and peak
// memory. Started by the other files of this folder.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import {
  gatherInventory,
  interpretReach,
  openInventory,
  queryInventory,
  type Reach,
  writeReachTables,
} from "../../lib/index.js";

const [task = "", folder = ""] = process.argv.slice(2);

const tasks: Readonly<Record<string, () => Promise<unknown>>> = {
  gather: async () => {
    const reaches = JSON.parse(readFileSync(join(folder, "reaches.json"), "utf8")) as Reach[];
    const budget = { holes: 100, metres: null };
    await gatherInventory(folder, reaches, { budget, known: null, lastWords: async () => [] });
  },
  query: async () => {
    const inventory = await openInventory(folder);
    const changed =
      "SELECT c.reach, c.direction, c.ratio, b.class, c.geometry FROM changes c JOIN block_classes b " +
      "ON c.reach = b.reach AND c.from_m >= b.from_m AND c.from_m < b.to_m ORDER BY c.q, c.reach";
    await queryInventory(inventory, changed, { colourBy: "direction" });
  },
  reach: async () => {
    await writeReachTables(join(folder, "out"), await interpretReach("R1", join(folder, "bank")));
  },
};

const start = performance.now();
await tasks[task]?.();
const { userCPUTime, systemCPUTime, maxRSS } = process.resourceUsage();
console.log(
  JSON.stringify({
    seconds: (performance.now() - start) / 1000,
    processor_s: (userCPUTime + systemCPUTime) / 1e6,
    peak_MB: maxRSS / 1024,
  }),
);
