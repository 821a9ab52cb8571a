import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { faces } from "./faces.js";
import { template } from "./template.js";

/** What the template sets: words as JSON, pictures as files beside it by name. */
export interface Manuscript {
  readonly data: unknown;
  readonly pictures: ReadonlyMap<string, Buffer>;
}

/** Why there is no paper. */
export class NoPaper extends Error {}

type Typst = typeof import("@myriaddreamin/typst-ts-node-compiler");

/**
 * The manuscript as PDF. Nothing is fetched and no clock is read: the same manuscript gives the same
 * bytes.
 *
 * @throws NoPaper where the compiler has no build for this machine, or refuses the manuscript.
 */
export async function compiled({ data, pictures }: Manuscript): Promise<Uint8Array> {
  const { NodeCompiler } = await loaded();
  const folder = dirname(fileURLToPath(import.meta.url));
  const compiler = NodeCompiler.create({
    workspace: folder,
    fontArgs: [{ fontBlobs: [...faces()] }],
  });
  for (const [name, bytes] of pictures) compiler.mapShadow(join(folder, name), bytes);
  const made = compiler.compile({
    mainFileContent: template,
    inputs: { document: JSON.stringify(data) },
  });
  if (made.result === null) {
    const [first] = compiler.fetchDiagnostics(made.takeError() as never);
    throw new NoPaper(
      `the document was refused: ${(first as { message?: string })?.message ?? "no word why"}`,
    );
  }
  return compiler.pdf(made.result, {});
}

async function loaded(): Promise<Typst> {
  try {
    return await import("@myriaddreamin/typst-ts-node-compiler");
  } catch {
    const machine = `${process.platform} on ${process.arch}`;
    throw new NoPaper(`the package that sets it has no build for ${machine}, or was left out`);
  }
}
