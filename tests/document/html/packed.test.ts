import { inflateSync } from "node:zlib";
import { expect, it } from "vitest";
import { packed } from "../../../lib/document/html/packed.js";

it("packs a text so that no page can be ended early by it, and loses nothing", () => {
  const text = `const a = "</script><!--Wend ü";`;
  expect(packed(text)).toMatch(/^[A-Za-z0-9+/=]+$/);
  expect(inflateSync(Buffer.from(packed(text), "base64")).toString("utf8")).toBe(text);
});
