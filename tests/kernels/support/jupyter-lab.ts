import { type ChildProcess, spawn } from "node:child_process";
import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pythons } from "../../support/python.js";
import { banquetteIn } from "../command/banquette.js";
import { BrowserPage } from "./browser.js";

const start_ms = 60_000;

/** A notebook open in JupyterLab with the installed kernel, in headless Chromium. */
export interface OpenNotebook {
  readonly page: BrowserPage;
  /** Opens other cells in the classic notebook of the same server. */
  openClassic(cells: readonly string[]): Promise<BrowserPage>;
  /** Runs the cell with this number, from 0, and waits until it has ended. */
  run(cell: number): Promise<void>;
  /** Begins to run it. */
  begin(cell: number): Promise<void>;
  /** Runs a command of JupyterLab. */
  command(id: string): Promise<void>;
  close(): Promise<void>;
}

/** Expressions in the page: the notebook's tab, and the widget of its cells. */
const panel = "[...jupyterapp.shell.widgets('main')].find((one) => one.content?.widgets)";
const notebook = `(${panel}).content`;

export async function openNotebook(cells: readonly string[]): Promise<OpenNotebook> {
  const folder = await mkdtemp(join(tmpdir(), "wend-lab-"));
  await banquetteIn(folder, ["kernel", "install", "--prefix", join(folder, "environment")]);
  await writeFile(join(folder, "work.ipynb"), notebookText(cells));
  await quietSettings(join(folder, "settings"));
  const port = await freePort();
  const lab = startLab(folder, port);
  const stop = async () => {
    const ended = new Promise((resolve) => lab.once("close", resolve));
    lab.kill("SIGTERM");
    await ended;
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  };
  const page = await openPage(port, cells.length).catch(async (failure: unknown) => {
    await stop();
    throw failure;
  });
  const command = async (id: string) => {
    await page.evaluate(`jupyterapp.commands.execute(${JSON.stringify(id)})`);
  };
  const begin = async (cell: number) => {
    await page.evaluate(`jupyterapp.shell.activateById((${panel}).id)`);
    await page.evaluate(`${notebook}.activeCellIndex = ${cell}`);
    await page.evaluate("void jupyterapp.commands.execute('notebook:run-cell')");
  };
  const counted = (cell: number) => `${notebook}.widgets[${cell}].model.executionCount`;
  return {
    page,
    async openClassic(others) {
      await writeFile(join(folder, "classic.ipynb"), notebookText(others));
      const classic = await BrowserPage.open(`${rootOf(port)}/notebooks/classic.ipynb`);
      await classic.until("Jupyter.notebook.kernel.is_connected()", start_ms);
      return classic;
    },
    command,
    begin,
    async run(cell) {
      await page.evaluate(`${notebook}.widgets[${cell}].model.executionCount = null`);
      await begin(cell);
      await page.until(`${counted(cell)} !== null`);
    },
    async close() {
      await page.close();
      await stop();
    },
  };
}

const rootOf = (port: number) => `http://127.0.0.1:${port}`;

async function openPage(port: number, cells: number): Promise<BrowserPage> {
  const root = rootOf(port);
  await answering(`${root}/api/status`);
  const page = await BrowserPage.open(`${root}/lab/tree/work.ipynb?reset`);
  const isReady = `${notebook}.widgets.length === ${cells} && (${panel}).sessionContext.isReady`;
  await page.until(isReady, start_ms).catch(async (failure: unknown) => {
    await page.close();
    throw failure;
  });
  return page;
}

/** Without the question whether news may be fetched, which would lie over the notebook. */
async function quietSettings(folder: string): Promise<void> {
  const own = join(folder, "@jupyterlab", "apputils-extension");
  await mkdir(own, { recursive: true });
  await writeFile(join(own, "notification.jupyterlab-settings"), '{ "fetchNews": "false" }');
}

function startLab(folder: string, port: number): ChildProcess {
  const settings = {
    "ServerApp.ip": "127.0.0.1",
    "ServerApp.port": port,
    "ServerApp.root_dir": folder,
    "IdentityProvider.token": "",
    "LabApp.open_browser": "False",
    "LabApp.expose_app_in_browser": "True",
    "LabApp.check_for_updates_class": "jupyterlab.NeverCheckForUpdate",
  };
  const words = Object.entries(settings).map(([name, value]) => `--${name}=${value}`);
  const env = {
    ...process.env,
    JUPYTER_PATH: join(folder, "environment", "share", "jupyter"),
    JUPYTER_CONFIG_DIR: join(folder, "config"),
    JUPYTER_DATA_DIR: join(folder, "data"),
    JUPYTER_RUNTIME_DIR: join(folder, "run"),
    JUPYTERLAB_SETTINGS_DIR: join(folder, "settings"),
    JUPYTERLAB_WORKSPACES_DIR: join(folder, "workspaces"),
  };
  const given = ["-m", "jupyterlab", "--allow-root", ...words];
  return spawn(pythons.lab, given, { cwd: folder, env, stdio: "ignore" });
}

function notebookText(cells: readonly string[]): string {
  return JSON.stringify({
    nbformat: 4,
    nbformat_minor: 5,
    metadata: {
      kernelspec: { name: "banquette", display_name: "Banquette", language: "typescript" },
    },
    cells: cells.map((source, at) => ({
      cell_type: "code",
      id: `cell-${at}`,
      metadata: {},
      execution_count: null,
      outputs: [],
      source,
    })),
  });
}

async function answering(url: string): Promise<void> {
  const end = performance.now() + start_ms;
  while (
    !(await fetch(url).then(
      ({ ok }) => ok,
      () => false,
    ))
  ) {
    if (performance.now() > end) throw new Error(`JupyterLab does not answer at ${url}`);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, "127.0.0.1");
  await new Promise((resolve) => server.once("listening", resolve));
  const { port } = server.address() as { readonly port: number };
  await new Promise((resolve) => server.close(resolve));
  return port;
}
