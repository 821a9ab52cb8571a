import { expect, it } from "vitest";
import type { Received } from "../../../kernels/wire/frames.js";
import { ShellQueue } from "../../../kernels/wire/shell-queue.js";

const request = (name: string) => ({ message: { name } }) as unknown as Received;
const nameOf = ({ message }: Received) => (message as unknown as { readonly name: string }).name;

it("aborts what came before a failed execution's reply, and nothing that comes upon it", async () => {
  const seen: string[] = [];
  const done = new Promise<void>((resolve) => {
    const queue = new ShellQueue(async (received, aborted) => {
      const name = nameOf(received);
      seen.push(aborted ? `${name} aborted` : name);
      // As a socket hands it on: a turn after it arrived, before the reply.
      if (name === "fails") setImmediate(() => queue.add(request("with it")));
      return {
        abortsFollowing: name === "fails",
        send: () => {
          if (name === "fails") queue.add(request("upon its reply"));
          if (name === "upon its reply") resolve();
        },
      };
    });
    queue.add(request("fails"));
    queue.add(request("waits"));
  });
  await done;
  expect(seen).toEqual(["fails", "waits aborted", "with it aborted", "upon its reply"]);
});
