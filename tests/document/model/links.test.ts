import { describe, expect, it } from "vitest";
import { isInlinePicture, isPlainLink } from "../../../lib/document/model/links.js";

describe("isPlainLink", () => {
  it.each(["https://x.y/z", "HTTP://x.y", "mailto:a@b.c", "#place", "findings.json", "a/b?c=d:e"])(
    "lets a reader follow %s",
    (href) => expect(isPlainLink(href)).toBe(true),
  );

  it.each([
    ...["javascript:alert(1)", " JaVaScript:x", "java\tscript:x", "data:text/html,x"],
    ...["//x.y/z", "\\\\x.y\\z", "vbscript:x", "file:///etc", ""],
  ])("refuses %j", (href) => expect(isPlainLink(href)).toBe(false));
});

describe("isInlinePicture", () => {
  it("takes pictures whose bytes stand in the page, and no drawing, which may hold scripts", () => {
    expect(isInlinePicture("data:image/png;base64,iVBORw0K\nGgo=")).toBe(true);
    expect(isInlinePicture("data:image/svg+xml;base64,AAAA")).toBe(false);
    expect(isInlinePicture('data:image/png;base64,AA" onload="x')).toBe(false);
    expect(isInlinePicture("https://x.y/a.png")).toBe(false);
  });
});
