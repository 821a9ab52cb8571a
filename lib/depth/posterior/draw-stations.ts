import { setImmediate as breathe } from "node:timers/promises";
import { itemAt } from "../../numerics/arrays.js";
import { TOGETHER } from "../../numerics/wasm/kernels.js";
import { hasIdleThreads } from "../../step/threads/in-thread.js";
import { type Parcel, packed, unpacked } from "../../step/threads/parcel.js";
import { sharedOut } from "../../step/threads/share-out.js";
import type { CommonNumbers } from "./common-numbers.js";
import type { LineEnsemble } from "./hyperparameters.js";
import { type DrawSettings, type EmptyDraws, LineDrawer, MANY_STATIONS } from "./line-drawer.js";
import { lineScreens, type ScreenGroup, type StationScreen } from "./line-screens.js";

/** What stations are drawn from, and where their draws go. */
interface Drawing {
  readonly line: LineEnsemble;
  readonly numbers: CommonNumbers;
  readonly out: EmptyDraws;
}

/** Stations of one group, in their order. */
interface DrawTask {
  readonly group: number;
  readonly stations: readonly number[];
}

/** Stations of a task: each task looks anew for its first best member, whoever makes it. */
const TASK = 16 * TOGETHER;

/** Fills the draws of the wanted stations; those of a long line by all threads, where none is busy. */
export async function drawStations(
  drawing: Drawing,
  { wanted, progress }: Pick<DrawSettings, "wanted" | "progress">,
): Promise<void> {
  const drawer = new TaskDrawer(drawing);
  const tasks = drawer.tasks(wanted);
  const total = tasks.reduce((sum, { stations }) => sum + stations.length, 0);
  const shared = total >= MANY_STATIONS && hasIdleThreads() ? inParcel(drawing) : null;
  if (shared === null) {
    let done = 0;
    for (const task of tasks) {
      await drawer.draw(task, (drawn) => progress?.(done + drawn, total));
      done += task.stations.length;
    }
  } else {
    await sharedOut<DrawTask, void>({
      ...{ module: new URL(import.meta.url), shared, tasks },
      here: (at) => drawer.draw(itemAt(tasks, at), () => undefined),
      progress: (done) => progress?.(Math.round((done / tasks.length) * total), total),
    });
  }
  progress?.(total, total);
}

/** What a bank takes is in the responses already, and could not be sent. */
function inParcel({ line, numbers, out }: Drawing): Parcel | null {
  const { bank: _, ...level } = line.level;
  return packed({ line: { ...line, level }, numbers, out }, []);
}

const drawers = new WeakMap<Parcel, TaskDrawer>();

/** In a thread: the stations of a task, into memory that is shared. */
export async function answer(parcel: Parcel, task: DrawTask): Promise<void> {
  const drawer = drawers.get(parcel) ?? new TaskDrawer(unpacked(parcel, []) as Drawing);
  drawers.set(parcel, drawer);
  await drawer.draw(task, () => undefined);
}

/** Draws tasks; the screen of a group is made once for those that follow one another. */
class TaskDrawer {
  private readonly drawer: LineDrawer;
  private readonly groups: readonly ScreenGroup[];
  private last: { readonly group: number; readonly screen: StationScreen } | null = null;

  constructor({ line, numbers, out }: Drawing) {
    this.drawer = new LineDrawer(line, out, numbers);
    this.groups = lineScreens(line.directions, line.level, line.found);
  }

  tasks(wanted: DrawSettings["wanted"]): readonly DrawTask[] {
    return this.groups.flatMap(({ stations }, group) =>
      inRuns(stations.filter(wanted), TASK).map((run) => ({ group, stations: run })),
    );
  }

  async draw({ group, stations }: DrawTask, tell: (drawn: number) => void): Promise<void> {
    const screen = this.screenOf(group);
    this.drawer.begin();
    for (const [r, run] of inRuns(stations, TOGETHER).entries()) {
      tell(r * TOGETHER);
      await breathe();
      this.drawer.draw(run, screen);
    }
  }

  private screenOf(group: number): StationScreen {
    if (this.last?.group !== group) {
      this.last = { group, screen: itemAt(this.groups, group).screen() };
    }
    return this.last.screen;
  }
}

/** Consecutive runs of at most so many. */
function inRuns(all: readonly number[], most: number): readonly (readonly number[])[] {
  const count = Math.ceil(all.length / most);
  return Array.from({ length: count }, (_, r) => all.slice(r * most, (r + 1) * most));
}
