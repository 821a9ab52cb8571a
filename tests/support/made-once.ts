import { existsSync, readFileSync } from "node:fs";
import { mkdir, rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { inject } from "vitest";

/**
 * What several test files read and nobody changes, made once a run: the first to ask makes it, in
 * whatever worker; the others wait for it. Gives the folder in which it was made. Where the making
 * failed, it fails for all who ask.
 */
export async function madeOnce(
  name: string,
  make: (folder: string) => Promise<void>,
): Promise<string> {
  const folder = join(inject("sharedFolder"), name);
  const ended = `${folder}.ended`;
  if (await isFirst(folder)) {
    const failure = await make(folder).then(
      () => "",
      (error: unknown) => String(error),
    );
    // Whole from the first moment that it is there.
    await writeFile(`${ended}.part`, failure);
    await rename(`${ended}.part`, ended);
  }
  while (!existsSync(ended)) await new Promise((resolve) => setTimeout(resolve, 100));
  const failure = readFileSync(ended, "utf8");
  if (failure !== "") throw new Error(`${name}: ${failure}`);
  return folder;
}

/** Of all who ask, one makes the folder. */
async function isFirst(folder: string): Promise<boolean> {
  try {
    await mkdir(folder);
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EEXIST") throw error;
    return false;
  }
}
