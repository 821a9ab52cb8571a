import { describe, expect, it } from "vitest";
import { failureOf, InputFault } from "../../../kernels/command/failure.js";
import { terminalText } from "../../../kernels/command/terminal-text.js";

describe("terminalText", () => {
  it("shows what a terminal would obey, and leaves letters, tabs and lines", () => {
    expect(terminalText("Wend\u001b[2J\r\u0007\u009b31m\u202e")).toBe("Wend␛[2J␍␇\ufffd31m\ufffd");
    expect(terminalText("Бёзда\t堤防\n€ µS/m −1")).toBe("Бёзда\t堤防\n€ µS/m −1");
  });

  it("holds for faults and for the cell that failed", () => {
    const { lines } = failureOf(new InputFault(["\u001b]0;title"], ["\u001b[31mred"]), false);
    expect(lines).toEqual(["banquette: ␛]0;title", "␛[31mred"]);
  });
});
