import { describe, expect, it } from "vitest";
import { inlineScript } from "../../lib/document/drawing-code.js";

describe("inlineScript", () => {
  it("takes nothing away from what the code means", () => {
    const code = `const a = "</script><!--";`;
    const safe = inlineScript(code);
    expect(safe).not.toMatch(/<\/script|<!--/);
    expect(new Function(`${safe} return a;`)()).toBe("</script><!--");
  });
});
