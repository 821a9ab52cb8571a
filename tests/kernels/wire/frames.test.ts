import { createHmac } from "node:crypto";
import { describe, expect, it } from "vitest";
import { FrameCodec } from "../../../kernels/wire/frames.js";
import { newHeader } from "../../../kernels/wire/messages.js";

const header = newHeader("execute_request");
const outgoing = { type: "execute_request", parent: null, content: '{"code":"1"}', header };

function buffers(frames: readonly (Buffer | string)[]): Buffer[] {
  return frames.map((frame) => Buffer.from(frame));
}

describe("frames of a message", () => {
  it("are identities, delimiter, HMAC-SHA256 over four parts of JSON, the parts, buffers", () => {
    const bytes = Uint8Array.from([1, 2, 3]);
    const frames = new FrameCodec("key").encode(["peer"], { ...outgoing, buffers: [bytes] });
    const [peer, delimiter, signature, ...parts] = buffers(frames);
    expect(String(peer)).toBe("peer");
    expect(String(delimiter)).toBe("<IDS|MSG>");
    const signed = Buffer.concat(parts.slice(0, 4));
    expect(String(signature)).toBe(createHmac("sha256", "key").update(signed).digest("hex"));
    expect(parts.slice(0, 4).map(String)).toEqual([
      JSON.stringify(header),
      "{}",
      "{}",
      '{"code":"1"}',
    ]);
    expect(parts[4]).toEqual(Buffer.from(bytes));
  });

  it("come back as the message", () => {
    const frames = buffers(new FrameCodec("key").encode(["peer"], outgoing));
    const received = new FrameCodec("key").decode(frames);
    expect(received?.identities.map(String)).toEqual(["peer"]);
    expect(received?.message).toEqual({
      header,
      parent_header: {},
      metadata: {},
      content: { code: "1" },
      buffers: [],
    });
  });

  it("are accepted once, and not with another key", () => {
    const frames = buffers(new FrameCodec("key").encode([], outgoing));
    const codec = new FrameCodec("key");
    expect(codec.decode(frames)).not.toBeNull();
    expect(codec.decode(frames)).toBeNull();
    expect(new FrameCodec("other").decode(frames)).toBeNull();
    frames[1] = Buffer.from("short");
    expect(new FrameCodec("key").decode(frames)).toBeNull();
  });

  it("are not signed where the key is empty", () => {
    const codec = new FrameCodec("");
    const frames = buffers(codec.encode([], outgoing));
    expect(String(frames[1])).toBe("");
    expect(codec.decode(frames)).not.toBeNull();
    expect(codec.decode(frames)).not.toBeNull();
  });
});
