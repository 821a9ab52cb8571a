import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { createServer, type Server } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** Files of a package by path, its package.json left out. */
export interface MadePackage {
  readonly name: string;
  readonly version: string;
  readonly files: Readonly<Record<string, string>>;
  /** More of its package.json. */
  readonly manifest?: Readonly<Record<string, unknown>>;
}

/** A registry of packages on this machine, as npm asks it. */
export interface Registry {
  /** Environment in which npm asks this registry and keeps its cache apart. */
  readonly env: Readonly<Record<string, string>>;
  /** Paths that were asked for. */
  readonly asked: string[];
  /** Names of packages that are never answered. */
  readonly silent: Set<string>;
  /** No connection is taken any more until `open` is called. */
  close(): Promise<void>;
  open(): Promise<void>;
  remove(): Promise<void>;
}

export async function startRegistry(packages: readonly MadePackage[]): Promise<Registry> {
  const folder = await mkdtemp(join(tmpdir(), "wend-registry-"));
  const tarballs = new Map<string, Buffer>();
  for (const one of packages) tarballs.set(fileOf(one), await packed(one, folder));
  const asked: string[] = [];
  const silent = new Set<string>();
  let address = "";
  const serve = () =>
    createServer((request, response) => {
      const path = decodeURIComponent(request.url ?? "").slice(1);
      asked.push(path);
      if (silent.has(path)) return;
      const tarball = tarballs.get(path);
      const body = tarball ?? documentOf(packages, path, { tarballs, address });
      response.writeHead(body === null ? 404 : 200).end(body ?? "{}");
    });
  let server: Server = serve();
  const listen = (port: number) =>
    new Promise<void>((resolve) => server.listen(port, "127.0.0.1", resolve));
  await listen(0);
  const { port } = server.address() as { port: number };
  address = `http://127.0.0.1:${port}`;
  const close = async () => {
    server.closeAllConnections();
    await new Promise((resolve) => server.close(resolve));
  };
  return {
    env: { npm_config_registry: `${address}/`, npm_config_cache: join(folder, "cache") },
    asked,
    silent,
    close,
    open: async () => {
      server = serve();
      await listen(port);
    },
    remove: async () => {
      await close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

function fileOf({ name, version }: MadePackage): string {
  return `${name}/-/${name.split("/").at(-1)}-${version}.tgz`;
}

async function packed(one: MadePackage, folder: string): Promise<Buffer> {
  const place = join(folder, "made", one.name, one.version);
  await mkdir(join(place, "package"), { recursive: true });
  for (const [path, text] of Object.entries({ ...one.files, "package.json": manifestOf(one) })) {
    await writeFile(join(place, "package", path), text);
  }
  const file = join(place, "package.tgz");
  const { status } = spawnSync("tar", ["-czf", file, "-C", place, "package"]);
  if (status !== 0) throw new Error("tar could not pack the package");
  return await readFile(file);
}

function manifestOf({ name, version, manifest = {} }: MadePackage): string {
  return JSON.stringify({ name, version, ...manifest });
}

interface Served {
  readonly tarballs: ReadonlyMap<string, Buffer>;
  readonly address: string;
}

// What a registry says of a package: its versions, the last of which is the latest.
function documentOf(packages: readonly MadePackage[], name: string, served: Served): string | null {
  const own = packages.filter((one) => one.name === name);
  const latest = own.at(-1)?.version;
  if (latest === undefined) return null;
  const versions = own.map((one) => {
    const file = fileOf(one);
    const hash = createHash("sha512").update(served.tarballs.get(file) as Buffer);
    const dist = {
      tarball: `${served.address}/${file}`,
      integrity: `sha512-${hash.digest("base64")}`,
    };
    return [one.version, { ...JSON.parse(manifestOf(one)), dist }] as const;
  });
  const tags = { latest };
  return JSON.stringify({ name, "dist-tags": tags, versions: Object.fromEntries(versions) });
}
