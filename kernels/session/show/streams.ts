/** Receives every text written to the process's own streams. */
export type StreamListener = (name: "stdout" | "stderr", text: string) => void;

type Write = typeof process.stdout.write;

/**
 * Sends what is written to standard output and error to the listener instead, in order. `console`
 * writes through the same two streams. Returns the function that undoes it.
 */
export function captureStreams(listener: StreamListener): () => void {
  const undo = (["stdout", "stderr"] as const).map((name) => captureStream(name, listener));
  return () => {
    for (const restore of undo) restore();
  };
}

function captureStream(name: "stdout" | "stderr", listener: StreamListener): () => void {
  const stream = process[name];
  const original = stream.write;
  const write = (chunk: string | Uint8Array, ...rest: unknown[]): boolean => {
    const encoding = typeof rest[0] === "string" ? (rest[0] as BufferEncoding) : "utf8";
    listener(name, typeof chunk === "string" ? chunk : Buffer.from(chunk).toString(encoding));
    const done = rest.find((part) => typeof part === "function") as (() => void) | undefined;
    if (done !== undefined) process.nextTick(done);
    return true;
  };
  stream.write = write as Write;
  return () => {
    stream.write = original;
  };
}
