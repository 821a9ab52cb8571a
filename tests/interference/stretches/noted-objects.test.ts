import { describe, expect, it } from "vitest";
import { maskInterference } from "../../../lib/interference/mask-interference.js";
import type { Masked } from "../../../lib/interference/masked.js";
import { disturbed } from "../../support/disturbed.js";

const holds = (value: Masked, at_m: number) =>
  value.interference.some(({ from_m, to_m }) => from_m <= at_m && to_m >= at_m);

describe("maskInterference and the notes", () => {
  const metal = [
    { at_m: 80, size: 12 },
    { at_m: 200, size: 12 },
  ];
  const notes = [
    { object: "gate", from_m: 81, to_m: 81 },
    { object: "pipe", from_m: 140, to_m: 140 },
    { object: "post", kind: "mark", from_m: 200, to_m: 200 },
  ] as const;
  const campaign = disturbed({ seed: 5, metal, notes, length_m: 300 });
  const result = maskInterference(campaign);
  const { value } = result;

  it("says of each stretch whether it was noted, seen or both", () => {
    expect(value.interference.map(({ cause, object }) => [cause, object])).toEqual([
      ["both", "gate"],
      ["detected", ""],
    ]);
    expect(value.unexplained).toHaveLength(1);
    expect(value.interference[0]!.channels.length).toBeGreaterThan(3);
  });

  it("reaches beyond a note by separation, height and position error", () => {
    const [gate] = value.interference;
    expect(gate!.from_m).toBeLessThanOrEqual(81 - 4.7);
    expect(gate!.to_m).toBeGreaterThanOrEqual(81 + 4.7);
  });

  it("lists a silent note and leaves its readings in use", () => {
    expect(value.silentNotes).toEqual([{ object: "pipe", from_m: 140, to_m: 140 }]);
    expect(holds(value, 140)).toBe(false);
    expect(result.cautions.map(({ text }) => text).join()).toContain(
      "pipe at 140.0 m has no trace",
    );
  });

  it("has a row an object, silent ones among them, with the channels that show it", () => {
    const rows = result.tables.find(({ id }) => id.startsWith("objects-"))!.rows;
    expect(rows.map(({ object, verdict }) => [object, verdict])).toEqual([
      ["gate", "noted and seen"],
      ["pipe", "noted, not seen: check the note"],
      ["not noted", "seen, not noted: go back and look"],
    ]);
    expect(rows[1]).toMatchObject({ channels: "none" });
    expect(rows[0]!.channels).toMatch(/^(all 10|\d of 10)/);
  });

  it("sets a silent note aside when asked", () => {
    const masked = maskInterference(campaign, { maskSilent: true }).value;
    expect(masked.interference.map(({ cause }) => cause)).toEqual([
      "both",
      "documented",
      "detected",
    ]);
    expect(masked.silentNotes).toHaveLength(1);
  });

  it("leaves a line out of reach of the noted object in use", () => {
    const aside = { ...campaign, notes: campaign.notes.map((note) => ({ ...note, offset_m: 20 })) };
    const { interference } = maskInterference(aside, { maskSilent: true }).value;
    expect(interference.map(({ cause }) => cause)).toEqual(["detected", "detected"]);
  });

  it("has nothing to say about a note where there are no readings", () => {
    const far = { ...campaign, notes: [{ ...campaign.notes[0]!, from_m: 900, to_m: 900 }] };
    const { cautions, value: after } = maskInterference(far);
    expect(after.silentNotes).toEqual([]);
    expect(cautions.map(({ text }) => text).join()).toContain("where no reading has a position");
  });
});
