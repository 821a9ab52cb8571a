import { describe, expect, it } from "vitest";
import {
  clockAt,
  imported,
  openKeys,
  proposed,
  rawFile,
  rowsOf,
  table,
} from "./support/imported.js";

const WALK = { height_m: "0.9", centreline: "from the walk" };
const COILS = { frequency_Hz: "9000", separation_m: "1.8", orientation: "HCP" };
const EC = "EC 9kHz HCP 2m (mS/m)";
const lon = (i: number) => (5 + i * 1e-4).toFixed(6);
const iso = (i: number) => `2031-10-14T${clockAt(i)}Z`;
const walk = (header: string, row: (i: number) => string) =>
  rawFile("walk.csv", table(header, 30, row));

describe("odd files are read", () => {
  it("with a header in another language, no seconds, separators at the ends", () => {
    const file = walk(
      "Fecha;Hora;Longitud;Latitud;Conductividad (mS/m);",
      (i) =>
        `14/10/2031;08:${String(i).padStart(2, "0")};${lon(i).replace(".", ",")};52,1;${30 + i},5;`,
    );
    const survey = imported([file], { ...WALK, ...COILS, timezone: "UTC" });
    expect(rowsOf(survey).slice(0, 2)).toEqual([
      "time,longitude,latitude,c_9k_hcp_1m8,raw_row",
      "2031-10-14T08:00:00Z,5,52.1,30.5,2",
    ]);
  });

  it("with thousands, X and Y, and two walks, whose header is there again", () => {
    const row = (start: number) => (i: number) =>
      `2031-10-14 ${clockAt(start + i)}\t680,${100 + 5 * i}.5\t6,030,${200 + 5 * i}.25\t1,${200 + i}.5`;
    const header = "Time\tX\tY\tQ 9kHz HCP 1.8m (ppm)";
    const text = table(header, 20, row(100)) + table(header, 20, row(0));
    const file = rawFile("both.txt", text);
    const given = { ...WALK, timezone: "UTC", crs: "32631" };
    expect(openKeys(proposed([file], given))).toEqual([
      "both.txt: column X",
      "both.txt: column Y",
      "both.txt: walks",
    ]);
    const axes = { "column X": "easting", "column Y": "northing", walks: "split" };
    const survey = imported([file], { ...given, ...axes });
    expect(survey.tables.map(({ name }) => name)).toEqual([
      "readings-2031-10-both-1",
      "readings-2031-10-both-2",
    ]);
    expect(rowsOf(survey, 1)).toHaveLength(21);
    expect(rowsOf(survey, 1)[1]).toBe("2031-10-14T08:00:00Z,680100.5,6030200.25,1200.5,23");
    expect(survey.records[0]!.rows!.apart).toContainEqual({
      what: "the header once more",
      count: 1,
      rows: "22",
    });
  });

  it("in UTF-16 with a byte-order mark, and without one", () => {
    const text = table(
      `Time,Longitude,Latitude,${EC}`,
      30,
      (i) => `${iso(i)},${lon(i)},52.1,${30 + i}`,
    );
    for (const mark of ["\ufeff", ""]) {
      const file = rawFile("walk.csv", Buffer.from(mark + text, "utf16le"));
      expect(rowsOf(imported([file], WALK))).toHaveLength(31);
    }
  });

  it("with milliseconds since 1970, degrees and minutes together, hemispheres apart, S/m", () => {
    const file = walk("Timestamp,Lat,N/S,Lon,E/W,EC_9000Hz_VCP_100cm [S/m]", (i) =>
      [
        Date.UTC(2031, 9, 14, 8, 0, i),
        `5230.${1000 + i}`,
        "N",
        `00512.${2000 + 9 * i}`,
        "W",
        `0.0${30 + i}`,
      ].join(),
    );
    expect(openKeys(proposed([file], WALK))).toEqual([
      "walk.csv: form of Lon",
      "walk.csv: form of Lat",
    ]);
    const together = "degrees and minutes together";
    const survey = imported([file], { ...WALK, "form of Lon": together, "form of Lat": together });
    expect(rowsOf(survey)[1]).toBe("2031-10-14T08:00:00Z,-5.20333333,52.50166667,30,2");
    const channel = survey.records[0]!.columns!.find(({ field }) => field === "c_9k_vcp_1m");
    expect(channel!.how).toBe("S/m, times 1000 to mS/m");
  });

  it("with a row of units, two channels of one frequency, parts per thousand", () => {
    const text = `Date Time Lon Lat Q9k I9k\nd/m/y h:m:s deg deg ppm ppt\n${table("", 30, (i) => `14/10/2031 ${clockAt(i)} ${lon(i)} 52.1 ${100 + i} ${i / 100}`)}`;
    const survey = imported([rawFile("walk.txt", text)], { ...WALK, ...COILS, timezone: "+02:00" });
    expect(rowsOf(survey)[2]).toBe("2031-10-14T06:00:01Z,5.0001,52.1,101,10,5");
  });

  it("with a spreadsheet's day numbers, once unknown columns are told", () => {
    const file = walk(
      "Date,Lon,Lat,A1,A2",
      (i) => `${(48_135.25 + i / 86_400).toFixed(8)},${lon(i)},52.1,${100 + i},${3 + i}`,
    );
    const given = { ...WALK, timezone: "UTC", "column A1": "channel", "column A2": "leave out" };
    const answers = { ...given, "channel A1": "quadrature, ppm, 9000 Hz, 1.8 m, VCP" };
    expect(openKeys(proposed([file], WALK))).toContain("walk.csv: column A1");
    expect(rowsOf(imported([file], answers))[2]).toBe("2031-10-14T06:00:01Z,5.0001,52.1,101,3");
  });

  it("with field notes of words, and electrode lines and their readings", () => {
    const notes = "kind;object;from (m);to (m);text\nmetal;gate;12,5;14;a, b\nmark;peg;20;20;\n";
    const electrodes = table(
      "line,electrode,x [m],elevation [m]",
      8,
      (i) => `R1,${i + 1},${2 * i},6.2`,
    );
    const readings = table(
      "Line,A,B,M,N,Current mA,Voltage mV,Deviation pct",
      5,
      (i) => `R1,${i + 1},${i + 4},${i + 2},${i + 3},100,${20 + i}.5,0.2`,
    );
    const files = [
      walk(`Time,Longitude,Latitude,${EC}`, (i) => `${iso(i)},${lon(i)},52.1,${30 + i}`),
      ...[
        ["notes.csv", notes],
        ["electrodes.csv", electrodes],
        ["resistivity.csv", readings],
      ].map(([name, text]) => rawFile(name!, text!)),
    ];
    const survey = imported(files, { ...WALK, "line R1": "along 20 0" });
    expect(survey.tables.map(({ resource }) => resource.role)).toEqual([
      "readings",
      "field-notes",
      "resistivity-electrodes",
      "resistivity-readings",
    ]);
    expect(rowsOf(survey, 1)[1]).toBe('metal,gate,12.5,14,"a, b",2');
    expect(survey.tables[2]!.resource.lines).toEqual([
      { line: "R1", runs: "along", chainage_m: 20, offset_m: 0 },
    ]);
  });
});

describe("what the files do not tell is asked, never guessed in silence", () => {
  it.each([
    ["03/04/2031", "the order of day and month"],
    ["31-10-14", "which end the year stands at"],
  ])("of the date %s: %s", (date) => {
    const file = walk(
      "date,time,lon,lat,Q [ppm]",
      (i) => `${date},${clockAt(i)},${lon(i)},52.1,${100 + i}`,
    );
    const proposal = proposed([file], { ...WALK, ...COILS, timezone: "UTC" });
    const open = proposal.questions.find(({ key }) => key === "walk.csv: date order");
    expect(open).toMatchObject({ guess: null });
    expect(open!.choices).toHaveLength(2);
  });

  it("of times that the clocks showed twice, and of none of the others", () => {
    const file = walk(
      `Time,Longitude,Latitude,${EC}`,
      (i) => `26.10.2031 02:${String(i).padStart(2, "0")}:00,${lon(i)},52.1,${30 + i}`,
    );
    const given = { ...WALK, timezone: "Europe/Amsterdam" };
    expect(openKeys(proposed([file], given))).toEqual(["walk.csv: repeated hour"]);
    const later = imported([file], { ...given, "repeated hour": "later" });
    expect(rowsOf(later)[1]).toMatch(/^2031-10-26T01:00:00Z/);
    expect(openKeys(proposed([file], { ...given, timezone: "+02:00" }))).toEqual([]);
  });

  it.each([
    [30_000, ["walk.csv: form of Time (UTC)"], null],
    [80_000, [], "hhmmss"],
    [28_790, [], "seconds of the day"],
  ])("of numbers from %d on that may be a clock or a count of seconds", (from, keys, form) => {
    const padded = form === "hhmmss" ? (text: string) => text.padStart(6, "0") : String;
    const file = walk("Date,Time (UTC),Lon,Lat,Q9k_HCP_1m8_ppm", (i) =>
      ["2031-10-14", padded(String(from + i)), lon(i), "52.1", 100 + i].join(),
    );
    const proposal = proposed([file], WALK);
    expect(openKeys(proposal)).toEqual(keys);
    const settled = proposal.settled.find(({ key: own }) => own.includes("form of Time"));
    expect(settled?.value ?? null).toBe(form);
  });

  it("of the coils of each file whose name may tell them", () => {
    const file = (name: string) =>
      rawFile(
        name,
        table("Time,Lon,Lat,Q 9k 1.8m [ppm]", 30, (i) => `${iso(i)},${lon(i)},52.1,${100 + i}`),
      );
    const { questions } = proposed([file("walk-hcp.csv"), file("walk_VCP.csv")], WALK);
    const asked = questions.filter(({ name }) => name === "orientation");
    expect(asked.map(({ key, guess }) => [key, guess])).toEqual([
      ["walk-hcp.csv: orientation", "HCP"],
      ["walk_VCP.csv: orientation", "VCP"],
    ]);
  });

  it("of all a logger's silence at once: zone, coils, height, centreline", () => {
    const file = walk(
      "Date,Time,Lon,Lat,Quad,Inphase (ppm)",
      (i) => `14/10/2031,${clockAt(i)},${lon(i)},52.1,${100 + i},${i}`,
    );
    expect(openKeys(proposed([file]))).toEqual([
      "walk.csv: column Quad",
      "timezone",
      "frequency_Hz",
      "separation_m",
      "orientation",
      "walk.csv: channel Quad",
      "height_m",
      "centreline",
    ]);
  });

  it("and an answer that breaks its rule is named", () => {
    const file = walk(
      `Time,Longitude,Latitude,${EC}`,
      (i) => `14/10/2031 ${clockAt(i)},${lon(i)},52.1,${30 + i}`,
    );
    const answers = { ...WALK, timezone: "Sedgeholm", height_m: "waist", role: "walk" };
    expect(proposed([file], answers).faults).toEqual([
      expect.stringMatching(
        /^answer to "walk.csv: role": must be one of centreline, .*, got "walk"$/,
      ),
      'answer to "timezone": must be UTC, an offset such as +01:00 or an IANA time zone, got "Sedgeholm"',
      'answer to "height_m": must be a number, got "waist"',
    ]);
  });
});

describe("what is no table of readings is refused", () => {
  const noise = Buffer.from(Array.from({ length: 5000 }, (_, i) => (i * 7919) % 256));
  const mixed = Array.from({ length: 40 }, (_, i) =>
    i % 2 === 1
      ? `$GPGGA,0800${10 + i},5230.123,N,00512.345,E,1,08,0.9,3.4,M,46.9,M,,*47`
      : `${iso(i)},${i}.5,33.2`,
  ).join("\n");
  it.each([
    ["empty", Buffer.alloc(0), "must be a table of text, got an empty file"],
    ["blank", Buffer.from("\n \n\n"), "must be a table, got an empty file"],
    ["binary", noise, "must be a table of text, got a binary file"],
    ["zip", Buffer.from("PK\u0003\u0004rest"), "got a spreadsheet or another zip file"],
    ["web page", Buffer.from("<html><p>1,2,3</p>"), "got a web page"],
    [
      "prose",
      Buffer.from("A letter.\nIt was written, in 2031, by the river.\n"),
      "got no rows of several numbers",
    ],
    ["sentences", Buffer.from(mixed), "got sentences of a positioning device from row 2 on"],
    ["one column", Buffer.from("a\n1\n2\n3\n"), "got no rows of several numbers"],
    [
      "a line without end",
      Buffer.from(`a,b\n${"1,2,".repeat(60_000)}`),
      "row 2: must be a line of 100,000 letters at the most",
    ],
    [
      "without a time",
      Buffer.from(table("Lon,Lat,Q9k_HCP_1m8_ppm", 9, (i) => `${lon(9 * i)},52.1,${i}`)),
      "must have a column of times, got none",
    ],
    [
      "without a position",
      Buffer.from(table(`Time,${EC}`, 9, (i) => `${iso(i)},${30 + i}`)),
      "must have positions to hold readings",
    ],
  ])("%s", (_, bytes, text) => {
    const { faults } = proposed([rawFile("walk.txt", bytes)], { ...WALK, role: "readings" });
    expect(faults.join("\n")).toContain(text);
    expect(faults[0]).toMatch(/^walk\.txt/);
  });
});

describe("every row of a raw file is accounted for", () => {
  const spoiled = new Map([
    [4, "2031-10-14T08:00:99Z,5,52,3"],
    [7, "2031-10-14T08:00:07Z,5.1,52"],
    [9, `${iso(9)},0,0,---`],
    [11, `${iso(11)},5.0011,52.1,abc`],
    [12, `${iso(12)},5.0012,52.1,-9999`],
    [15, "# a remark"],
    [16, ""],
  ]);
  const file = walk(
    `Time,Longitude,Latitude,${EC}`,
    (i) => spoiled.get(i) ?? `${iso(i)},${lon(i)},52.1,${30 + i}`,
  );

  it("as read, or by its cause with its row; what cannot be read in it stays blank", () => {
    const survey = imported([file], { ...WALK, "marks for none": "-9999" });
    const { rows } = survey.records[0]!;
    expect(rows).toEqual({
      lines: 31,
      read: 26,
      apart: [
        { what: "the header", count: 1, rows: "1" },
        { what: "remarks", count: 1, rows: "17" },
        { what: "blank lines", count: 1, rows: "18" },
      ],
      notRead: [
        { what: "a time that cannot be read", count: 1, rows: "6" },
        { what: "fewer cells than the 4 of the table", count: 1, rows: "9" },
      ],
      blanked: [
        { field: "longitude", what: "a position of 0, 0", count: 1, rows: "11" },
        { field: "latitude", what: "a position of 0, 0", count: 1, rows: "11" },
        { field: "c_9k_hcp_2m", what: "a mark for no value", count: 2, rows: "11, 14" },
        { field: "c_9k_hcp_2m", what: "a cell that cannot be read", count: 1, rows: "13" },
      ],
    });
    expect(rowsOf(survey)).toHaveLength(1 + rows!.read);
    expect(rowsOf(survey)[8]).toBe("2031-10-14T08:00:09Z,,,,11");
  });
});

describe("files of several visits", () => {
  it("make a campaign each, named by its month; days apart are one", () => {
    const at = (name: string, day: string) =>
      rawFile(
        name,
        table(
          `Time,Longitude,Latitude,${EC}`,
          30,
          (i) => `${day}T${clockAt(i)}Z,${lon(i)},52.1,${30 + i}`,
        ),
      );
    const files = [at("c.csv", "2032-04-02"), at("a.csv", "2031-10-30"), at("b.csv", "2031-11-01")];
    const survey = imported(files, WALK);
    expect(survey.campaigns).toEqual(["2031-10", "2032-04"]);
    expect(survey.tables.map(({ name }) => name)).toEqual([
      "readings-2032-04-c",
      "readings-2031-10-a",
      "readings-2031-10-b",
    ]);
  });
});
