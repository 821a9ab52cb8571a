import { describe, expect, it } from "vitest";
import { sanitised } from "../../../lib/document/model/sanitise.js";

describe("sanitised", () => {
  it.each([
    ["a script", `<p>a<script>alert(1)</script>b</p>`, "<p>ab</p>"],
    ["a script that never ends", `<p>a<script>alert(1)`, "<p>a</p>"],
    ["a style sheet", `<style>@import url(http://x.y)</style><b>a</b>`, "<b>a</b>"],
    ["a handler", `<b onclick="x()" title="t">a</b>`, `<b title="t">a</b>`],
    ["a handler without quotes", `<img src=x onerror=alert(1)>`, "<img />"],
    ["a link that runs", `<a href="java&#115;cript:alert(1)">a</a>`, "<a>a</a>"],
    ["a link with a tab in it", `<a href="java\tscript:alert(1)">a</a>`, "<a>a</a>"],
    ["a frame", `<iframe src="http://x.y">no</iframe>a`, "a"],
    ["a picture from elsewhere", `<img src="http://x.y/a.png" alt="a">`, `<img alt="a" />`],
    ["a fill from elsewhere", `<path fill="url(http://x.y#a)" d="M0,0"/>`, `<path d="M0,0" />`],
    [
      "a foreign object",
      `<svg><foreignObject><p>a</p></foreignObject></svg>`,
      "<svg><p>a</p></svg>",
    ],
    ["a comment", `a<!-- <b> -->b`, "ab"],
    ["an open tag", `<div><b>a`, "<div><b>a</b></div>"],
    ["a stray end", `a</div>b`, "ab"],
    ["a lone bracket", `1 < 2 and 3 > 2`, "1 &lt; 2 and 3 &gt; 2"],
    ["capitals", `<SCRIPT>x</SCRIPT><P ONCLICK="x()" TITLE="t">a</P>`, `<p title="t">a</p>`],
    [
      "a script in a drawing",
      `<svg><script>x</script><g onload="x()"></g></svg>`,
      "<svg><g></g></svg>",
    ],
    [
      "a link out of a drawing",
      `<svg><g xlink:href="http://x.y#a"></g></svg>`,
      "<svg><g></g></svg>",
    ],
    ["a reference to elsewhere", `<svg><use href="http://x.y#a"></use></svg>`, "<svg></svg>"],
    ["a form", `<form action="http://x.y"><input name="a">a</form>`, "a"],
    [
      "a sheet that hides a tag",
      `<svg><style><a id="</style><img src=1 onerror=x()>">`,
      '<svg><img />"&gt;</svg>',
    ],
    [
      "a table that moves its content",
      `<table><a href="data:text/html,x">a</a></table>`,
      "<table><a>a</a></table>",
    ],
    ["a style of its own place", `<p style="position:fixed;top:0">a</p>`, "<p>a</p>"],
    [
      "an attribute that is unknown",
      `<p formaction="x" ping="y" class="c">a</p>`,
      `<p class="c">a</p>`,
    ],
    ["a style that reaches out", `<p style="background:url(//x.y)">a</p>`, "<p>a</p>"],
  ])("cleans %s", (_, markup, clean) => {
    expect(sanitised(markup)).toBe(clean);
  });

  it("keeps tables, lists, folds and drawings as they are", () => {
    const markup =
      `<details open><summary>s</summary><table class="bq-table"><tr><td colspan="2">a</td></tr></table></details>` +
      `<svg viewBox="0 0 1 1"><g transform="translate(1,2)"><path fill="url(#a)" d="M0,0L1,1" /></g></svg>`;
    expect(sanitised(markup)).toBe(markup);
  });

  it("keeps links that a reader may follow, and pictures of the page's own", () => {
    const markup =
      `<a href="https://x.y/z">a</a><a href="#b">b</a><a href="c.csv">c</a>` +
      `<img src="data:image/png;base64,AAAA" alt="d" />`;
    expect(sanitised(markup)).toBe(markup);
  });

  it("leaves text that is already escaped alone", () => {
    expect(sanitised("<p>a &lt;b&gt; &amp; c</p>")).toBe("<p>a &lt;b&gt; &amp; c</p>");
  });
});
