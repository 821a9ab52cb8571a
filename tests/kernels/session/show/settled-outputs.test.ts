import { describe, expect, it } from "vitest";
import {
  type CellOutput,
  namedDisplay,
  type SentOutput,
  updateOutput,
} from "../../../../kernels/session/show/outputs.js";
import { settled } from "../../../../kernels/session/show/settled-outputs.js";

const text = (written: string, name: "stdout" | "stderr" = "stdout"): CellOutput => ({
  output_type: "stream",
  name,
  text: written,
});
const clear = (wait: boolean): SentOutput => ({ output_type: "clear_output", wait });

describe("the outputs that a notebook stores", () => {
  it("have updates in the place of what they update, and nothing transient", () => {
    const sent = [
      namedDisplay({ "text/plain": "1" }, "a"),
      namedDisplay({ "text/plain": "x" }, "b"),
      updateOutput({ "text/plain": "2" }, "a"),
      updateOutput({ "text/plain": "nowhere" }, "c"),
    ];
    expect(settled(sent)).toEqual([
      { output_type: "display_data", data: { "text/plain": "2" }, metadata: {} },
      { output_type: "display_data", data: { "text/plain": "x" }, metadata: {} },
    ]);
  });

  it("join texts that follow each other on one stream", () => {
    expect(settled([text("a"), text("b"), text("c", "stderr"), text("d")])).toEqual([
      text("ab"),
      text("c", "stderr"),
      text("d"),
    ]);
  });

  it("are cleared at once, or when the next one comes", () => {
    expect(settled([text("a"), clear(false)])).toEqual([]);
    expect(settled([text("a"), clear(true)])).toEqual([text("a")]);
    expect(settled([text("a"), clear(true), text("b")])).toEqual([text("b")]);
    expect(settled([text("a"), clear(true), text("b"), text("c")])).toEqual([text("bc")]);
  });
});
