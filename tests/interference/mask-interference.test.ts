import { describe, expect, it } from "vitest";
import { maskInterference } from "../../lib/interference/mask-interference.js";
import type { Masked } from "../../lib/interference/masked.js";
import type { MaskOptions } from "../../lib/interference/options.js";
import { frozen } from "../../lib/step/frozen.js";
import { renderSvg } from "../../lib/step/show/render-svg.js";
import { StepError } from "../../lib/step/step-error.js";
import { CAUSE_NAMES } from "../../lib/survey/account/reading-status.js";
import type { Campaign, Pass } from "../../lib/survey/survey.js";
import { snapshot } from "../support/campaign.js";
import { disturbed } from "../support/disturbed.js";

const holds = (value: Masked, at_m: number) =>
  value.interference.some(({ from_m, to_m }) => from_m <= at_m && to_m >= at_m);

describe("maskInterference keeps its symmetries", () => {
  const metal = [{ at_m: 150, size: 10 }];
  const campaign = disturbed({ seed: 11, metal, edges_m: [220], length_m: 300 });
  const [before] = maskInterference(campaign).value.interference;

  const moved = (place: (x: number) => number): Campaign => ({
    ...campaign,
    passes: campaign.passes.map((pass) => ({ ...pass, chainage_m: pass.chainage_m.map(place) })),
  });

  it("when the line is reversed", () => {
    const [after] = maskInterference(moved((x) => 300 - x)).value.interference;
    expect(after!.from_m).toBeCloseTo(300 - before!.to_m, 6);
    expect(after!.to_m).toBeCloseTo(300 - before!.from_m, 6);
    expect(after!.readings).toBe(before!.readings);
  });

  it("when the line is shifted", () => {
    const [after] = maskInterference(moved((x) => x + 4321)).value.interference;
    expect(after!.from_m).toBeCloseTo(before!.from_m + 4321, 6);
    expect(after!.score).toBeCloseTo(before!.score, 6);
  });

  it("when quadratures come as conductivities in mS/m", () => {
    const inUnits = campaign.passes.map((pass): Pass => {
      const factor = pass.instrument.channels.map(({ kind, frequency_Hz, separation_m }) =>
        // Low-induction conductivity, McNeill 1980: 4 Im / (ω μ0 s²), mS/m for ppm.
        kind === "inphase"
          ? 1
          : (4 * 1e-3) / (2 * Math.PI * frequency_Hz * 4e-7 * Math.PI * separation_m ** 2),
      );
      const channels = pass.instrument.channels.map((channel) =>
        channel.kind === "inphase"
          ? channel
          : ({ ...channel, kind: "conductivity", unit: "mS/m" } as const),
      );
      const values = pass.values.map((column, c) => column.map((value) => value * factor[c]!));
      return { ...pass, values, instrument: { ...pass.instrument, channels } };
    });
    const [after] = maskInterference({ ...campaign, passes: inUnits }).value.interference;
    expect(after!.from_m).toBeCloseTo(before!.from_m, 6);
    expect(after!.to_m).toBeCloseTo(before!.to_m, 6);
  });
});

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

describe("maskInterference and the readings", () => {
  const metal = [{ at_m: 80, size: 12 }];
  const campaign = disturbed({ seed: 6, metal, orientations: ["HCP", "VCP"], length_m: 200 });

  it("mutates nothing, and hands on a campaign", () => {
    const before = snapshot(campaign);
    const { value } = maskInterference(frozen(campaign));
    expect(snapshot(campaign)).toBe(before);
    const added = ["interference", "unexplained", "silentNotes", "alongLine", "noise"];
    expect(Object.keys(value)).toEqual([...Object.keys(campaign), ...added]);
    expect(value.passes[0]!.values).toEqual(campaign.passes[0]!.values);
  });

  it("flags all channels of all passes within the stretch, and accounts for them", () => {
    const { value, accounting } = maskInterference(campaign);
    const [stretch] = value.interference;
    let flagged = 0;
    for (const pass of value.passes) {
      for (const [i, x] of pass.chainage_m.entries()) {
        const inside = x >= stretch!.from_m && x <= stretch!.to_m;
        for (const flags of pass.setAside) expect(flags[i]).toBe(inside ? 1 : 0);
        if (inside) flagged++;
      }
    }
    expect(stretch!.readings).toBe(flagged);
    const cause = CAUSE_NAMES[value.causes[0]!.kind];
    expect(accounting!.setAside).toEqual([{ cause, readings: flagged }]);
  });

  it("does not overwrite why a reading was set aside before", () => {
    const causes = [{ kind: "noise", text: "Doubted by the walker" }] as const;
    const passes = campaign.passes.map((pass) => ({
      ...pass,
      setAside: pass.setAside.map((flags) => {
        return flags.map((_, i) => (Math.abs(pass.chainage_m[i]! - 81.5) < 0.7 ? 1 : 0));
      }),
    }));
    const { value } = maskInterference({ ...campaign, passes, causes });
    expect(value.causes[0]).toEqual(causes[0]);
    expect(value.causes[1]!.kind).toBe("detected");
    const { from_m, to_m } = value.interference[0]!;
    const [pass] = value.passes;
    const flags = Array.from(pass!.setAside[0]!).filter((_, i) => {
      return pass!.chainage_m[i]! >= from_m && pass!.chainage_m[i]! <= to_m;
    });
    expect(flags.filter((flag) => flag === 1).length).toBeGreaterThan(0);
    expect(flags.filter((flag) => flag === 2).length).toBeGreaterThan(0);
    expect(flags).not.toContain(0);
  });

  it("looks past missing values and positions", () => {
    const passes = campaign.passes.map((pass) => ({
      ...pass,
      chainage_m: pass.chainage_m.map((x, i) => (i % 10 === 3 ? Number.NaN : x)),
      values: pass.values.map((column) =>
        column.map((value, i) => (i % 7 === 2 ? Number.NaN : value)),
      ),
    }));
    const { value, accounting } = maskInterference({ ...campaign, passes });
    expect(value.interference).toHaveLength(1);
    expect(holds(value, 80)).toBe(true);
    expect(accounting!.readings).toBe(passes.reduce((sum, { count }) => sum + count, 0));
  });

  it("finds the noise", () => {
    const { noise } = maskInterference(campaign).value;
    expect(noise).toHaveLength(20);
    const inphase = noise.filter(({ channel }) => channel.startsWith("i_1500"));
    // The floor of 25 ppm from some 160 readings: the scale is known to about 10 %.
    for (const { typical } of inphase) expect(Math.abs(typical - 25)).toBeLessThan(6);
  });

  it("says when nothing is set aside, and when there are too few readings to look", () => {
    const clean = disturbed({ seed: 3, length_m: 200 });
    const quiet = maskInterference(clean);
    expect(quiet.value.interference).toEqual([]);
    expect(quiet.summary).toMatch(/^No stretch of campaign 2031-10 is set aside/);
    const short = maskInterference(disturbed({ seed: 3, length_m: 4 }));
    expect(short.value.interference).toEqual([]);
    expect(short.cautions.map(({ text }) => text).join()).toContain("too few readings");
  });

  it("asks for swings of both signs where one channel is all there is", () => {
    const only = (c: number): Campaign => ({
      ...disturbed({
        seed: 8,
        conductors_m: [60],
        metal: [{ at_m: 140, size: 40 }],
        length_m: 200,
      }),
      passes: disturbed({
        seed: 8,
        conductors_m: [60],
        metal: [{ at_m: 140, size: 40 }],
        length_m: 200,
      }).passes.map((pass) => ({
        ...pass,
        instrument: { ...pass.instrument, channels: [pass.instrument.channels[c]!] },
        values: [pass.values[c]!],
        setAside: [pass.setAside[c]!],
      })),
    });
    const { value, cautions } = maskInterference(only(4));
    expect(holds(value, 60)).toBe(false);
    expect(cautions.map(({ text }) => text).join()).toContain("too few to tell metal from ground");
  });

  it("accepts a campaign without passes", () => {
    const none = maskInterference({ ...campaign, passes: [] });
    expect(none.value.interference).toEqual([]);
    expect(none.accounting).toMatchObject({ readings: 0 });
    expect(none.figures).toEqual([]);
  });

  it.each<[string, unknown, string, string]>([
    ["a threshold of 0", { threshold: 0 }, "option-range", "options.threshold"],
    ["NaN", { window_m: Number.NaN }, "option-range", "options.window_m"],
    ["a share above 1", { share: 2 }, "option-range", "options.share"],
    ["a negative margin", { margin_m: -1 }, "option-range", "options.margin_m"],
    ["growth above the threshold", { growTo: 9 }, "option-order", "options.growTo"],
    ["a word for yes", { maskSilent: "yes" }, "option-value", "options.maskSilent"],
    ["a negative reach", { reach_m: -3 }, "option-range", "options.reach_m"],
    ["a misspelt option", { treshold: 4 }, "option-unknown", "options.treshold"],
  ])("refuses %s", (_, options, code, path) => {
    const act = () => maskInterference(campaign, options as MaskOptions);
    expect(act).toThrow(`maskInterference: ${path} must be`);
    try {
      act();
    } catch (error) {
      expect(error).toBeInstanceOf(StepError);
      expect((error as StepError).faults).toMatchObject([{ code, path }]);
    }
  });
});

describe("the figure of maskInterference", () => {
  const metal = [
    { at_m: 80, size: 12 },
    { at_m: 200, size: 12 },
  ];
  const notes = [{ object: "gate", from_m: 81, to_m: 81 }];
  const orientations = ["HCP", "VCP"] as const;
  const result = maskInterference(
    disturbed({ seed: 5, metal, notes, orientations, length_m: 300 }),
  );

  it("has the finding as its title and compiles without a warning", async () => {
    const [figure] = result.figures;
    expect(figure!.title).toMatch(/^Two stretches of campaign 2031-10 set aside, \d+\.\d % of/);
    expect(figure!.title).toMatch(/% of the readings; one of them nobody noted$/);
    const svg = await renderSvg(figure!.spec);
    expect(svg).toContain("gate");
    expect(svg).toContain("not noted");
  });

  it("comes with the stretches, the cross-table of notes and the noise", () => {
    expect(result.tables.map(({ rows }) => rows.length)).toEqual([2, 2, 2, 20]);
    expect(result.tables[1]!.rows).toMatchObject([
      { seen: 1, unseen: 0 },
      { seen: 1, unseen: null },
    ]);
    expect(result.tables[2]!.rows).toMatchObject([
      { object: "gate", verdict: "noted and seen" },
      { object: "not noted", verdict: "seen, not noted: go back and look" },
    ]);
  });
});
