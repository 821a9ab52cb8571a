import { execFile } from "node:child_process";
import { createHash } from "node:crypto";
import { readdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { promisify } from "node:util";
import { InputFault } from "./failure.js";

/** What a signature is for: one made for something else does not hold for an appendix. */
export const signatureNamespace = "banquette-appendix";

const sums = "SHA256SUMS";
const signature = `${sums}.sig`;

/**
 * Writes the sha-256 of every file of a folder to SHA256SUMS, in the form that `sha256sum --check`
 * reads, and signs it with the user's own SSH key to SHA256SUMS.sig. Verified by
 * `ssh-keygen -Y verify`, whose user decides whose key he trusts.
 *
 * @throws InputFault where OpenSSH is missing or refuses the key.
 */
export async function signFolder(folder: string, key: string): Promise<readonly string[]> {
  await rm(join(folder, signature), { force: true });
  await writeFile(join(folder, sums), await sumsOf(folder));
  const words = ["-q", "-Y", "sign", "-f", key, "-n", signatureNamespace, join(folder, sums)];
  await promisify(execFile)("ssh-keygen", words).catch((error: SigningError) => {
    throw new InputFault([refusal(error, key)]);
  });
  return [sums, signature];
}

async function sumsOf(folder: string): Promise<string> {
  const entries = await readdir(folder, { withFileTypes: true });
  const names = entries
    .filter((entry) => entry.isFile() && entry.name !== sums)
    .map((entry) => entry.name)
    .toSorted();
  const lines = names.map(async (name) => {
    const bytes = await readFile(join(folder, name));
    return `${createHash("sha256").update(bytes).digest("hex")}  ${name}\n`;
  });
  return (await Promise.all(lines)).join("");
}

type SigningError = NodeJS.ErrnoException & { readonly stderr?: string };

function refusal({ code, message, stderr }: SigningError, key: string): string {
  if (code === "ENOENT") return "--sign needs ssh-keygen (OpenSSH 8.0 or newer), which is not here";
  const [said = message] = (stderr ?? "").trim().split("\n");
  return `${key}: ssh-keygen did not sign with it (${said})`;
}
