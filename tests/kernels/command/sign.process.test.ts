// A folder signed with a key of one's own, and verified by OpenSSH and sha256sum alone.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import { signatureNamespace, signFolder } from "../../../kernels/command/sign.js";
import { describeWith } from "../../support/needs.js";

const folder = mkdtempSync(join(tmpdir(), "banquette-sign-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const [out, key, allowed] = ["out", "key", "allowed"].map((name) => join(folder, name)) as [
  string,
  string,
  string,
];

const verified = () => {
  const sums = readFileSync(join(out, "SHA256SUMS"));
  const words = ["-Y", "verify", "-f", allowed, "-I", "a@example.org", "-n", signatureNamespace];
  const of = ["-s", join(out, "SHA256SUMS.sig")];
  return spawnSync("ssh-keygen", [...words, ...of], { input: sums }).status === 0;
};
const unaltered = () =>
  spawnSync("sha256sum", ["--check", "--quiet", "SHA256SUMS"], { cwd: out }).status === 0;

describeWith("ssh-keygen", "signFolder", () => {
  it("lists every file's hash and signs the list; one letter changed and it fails", async () => {
    spawnSync("mkdir", [out]);
    spawnSync("ssh-keygen", ["-q", "-t", "ed25519", "-N", "", "-f", key]);
    writeFileSync(allowed, `a@example.org ${readFileSync(`${key}.pub`, "utf8")}`);
    writeFileSync(join(out, "findings.json"), "{}");
    writeFileSync(join(out, "a name.csv"), "1\n");
    expect(await signFolder(out, key)).toEqual(["SHA256SUMS", "SHA256SUMS.sig"]);
    expect(readFileSync(join(out, "SHA256SUMS"), "utf8")).toMatch(
      /^[0-9a-f]{64} {2}a name\.csv\n[0-9a-f]{64} {2}findings\.json\n$/,
    );
    expect([verified(), unaltered()]).toEqual([true, true]);
    writeFileSync(join(out, "findings.json"), "[]");
    expect([verified(), unaltered()]).toEqual([true, false]);
    await signFolder(out, key);
    expect([verified(), unaltered()]).toEqual([true, true]);
    writeFileSync(join(out, "SHA256SUMS"), "");
    expect(verified()).toBe(false);
  });

  it("says why a key does not sign", async () => {
    await expect(signFolder(out, join(folder, "none"))).rejects.toThrow(
      /none: ssh-keygen did not sign with it \(/,
    );
  });
});
