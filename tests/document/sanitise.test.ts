import { describe, expect, it } from "vitest";
import { inlineScript } from "../../lib/document/drawing-code.js";
import { sanitised } from "../../lib/document/sanitise.js";

describe("sanitised", () => {
  it.each([
    ["a script", `<p>a<script>alert(1)</script>b</p>`, "<p>ab</p>"],
    ["a script that never ends", `<p>a<script>alert(1)`, "<p>a</p>"],
    ["a style sheet", `<style>@import url(http://x.y)</style><b>a</b>`, "<b>a</b>"],
    ["a handler", `<b onclick="x()" title="t">a</b>`, `<b title="t">a</b>`],
    ["a handler without quotes", `<img src=x onerror=alert(1)>`, "<img>"],
    ["a link that runs", `<a href="java&#115;cript:alert(1)">a</a>`, "<a>a</a>"],
    ["a link with a tab in it", `<a href="java\tscript:alert(1)">a</a>`, "<a>a</a>"],
    ["a frame", `<iframe src="http://x.y">no</iframe>a`, "a"],
    ["a picture from elsewhere", `<img src="http://x.y/a.png" alt="a">`, `<img alt="a">`],
    ["a fill from elsewhere", `<path fill="url(http://x.y#a)" d="M0,0"/>`, `<path d="M0,0"/>`],
    [
      "a foreign object",
      `<svg><foreignObject><p>a</p></foreignObject></svg>`,
      "<svg><p>a</p></svg>",
    ],
    ["a comment", `a<!-- <b> -->b`, "ab"],
    ["an open tag", `<div><b>a`, "<div><b>a</b></div>"],
    ["a stray end", `a</div>b`, "ab"],
    ["a lone bracket", `1 < 2 and 3 > 2`, "1 &lt; 2 and 3 &gt; 2"],
    ["a style that reaches out", `<p style="background:url(//x.y)">a</p>`, "<p>a</p>"],
  ])("cleans %s", (_, markup, clean) => {
    expect(sanitised(markup)).toBe(clean);
  });

  it("keeps tables, lists, folds and drawings as they are", () => {
    const markup =
      `<details open=""><summary>s</summary><table class="bq-table"><tr><td colspan="2">a</td></tr></table></details>` +
      `<svg viewBox="0 0 1 1"><g transform="translate(1,2)"><path fill="url(#a)" d="M0,0L1,1"/></g></svg>`;
    expect(sanitised(markup)).toBe(markup);
  });

  it("leaves text that is already escaped alone", () => {
    expect(sanitised("<p>a &lt;b&gt; &amp; c</p>")).toBe("<p>a &lt;b&gt; &amp; c</p>");
  });
});

describe("inlineScript", () => {
  it("takes nothing away from what the code means", () => {
    const code = `const a = "</script><!--";`;
    const safe = inlineScript(code);
    expect(safe).not.toMatch(/<\/script|<!--/);
    expect(new Function(`${safe} return a;`)()).toBe("</script><!--");
  });
});
