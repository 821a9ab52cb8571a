// Small survey folders for tests: a sound one with every role, a minimal one, and what spoils them.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";

/** A folder's content: the data package as an object to change, other files as lines of text. */
export interface SketchedFolder {
  // biome-ignore lint/suspicious/noExplicitAny: tests spoil it in ways that no type allows
  package: any;
  files: Record<string, string[]>;
}

/** Writes the folder, hands its path on, and removes it. */
export async function inFolder<Result>(
  sketch: SketchedFolder,
  use: (folder: string) => Promise<Result>,
): Promise<Result> {
  const folder = mkdtempSync(join(tmpdir(), "banquette-survey-"));
  try {
    write(folder, "datapackage.json", JSON.stringify(sketch.package, null, 2));
    for (const [path, lines] of Object.entries(sketch.files)) {
      write(folder, path, lines.join("\n"));
    }
    return await use(folder);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function write(folder: string, path: string, text: string): void {
  mkdirSync(dirname(join(folder, path)), { recursive: true });
  writeFileSync(join(folder, path), text);
}

const fields = (names: string, type = "number") => names.split(" ").map((name) => ({ name, type }));
const channel = (field: string, orientation: string) => ({
  field,
  kind: "conductivity",
  unit: "mS/m",
  frequency_Hz: 9000,
  separation_m: 1.8,
  orientation,
});

/** The least that can be worked with: a centreline of about 323 m and one walk of six readings. */
export function minimalSurvey(): SketchedFolder {
  return {
    package: {
      name: "sedgeholm-small",
      resources: [
        { name: "centreline", path: "centreline.geojson", role: "centreline" },
        {
          name: "walk",
          path: "walk.csv",
          role: "readings",
          campaign: "2031-10",
          instrument: {
            height_m: 0.9,
            channels: [channel("c_hcp", "HCP"), channel("c_vcp", "VCP")],
          },
          schema: {
            fields: [
              { name: "time", type: "datetime" },
              ...fields("longitude latitude c_hcp c_vcp"),
            ],
          },
        },
      ],
    },
    files: {
      "centreline.geojson": [
        '{"type": "LineString", "coordinates": [[3, 54], [3.003, 54], [3.0045, 54.0005]]}',
      ],
      "walk.csv": [
        "time,longitude,latitude,c_hcp,c_vcp",
        "2031-10-14T09:00:00+01:00,3.0001,54,21.5,18.2",
        "2031-10-14T09:00:10+01:00,3.0003,54,22.5,18.4",
        "2031-10-14T09:00:20+01:00,3.0005,54.00001,23.1,18.9",
        "2031-10-14T09:00:30+01:00,,,23.4,19.2",
        "2031-10-14T09:00:40+01:00,3.0009,54,24.0,",
        "2031-10-14T09:00:50+01:00,3.0011,54,,",
      ],
    },
  };
}

/** The minimal survey with a table of every other role beside it. */
export function wholeSurvey(): SketchedFolder {
  const survey = minimalSurvey();
  survey.package.survey = {
    embankment: "Sedgeholm Bank",
    waterway: "River Wend",
    crs: 32631,
    crestWidth_m: 4,
    waterside: "left",
    designWaterLevel_m: 5.6,
  };
  const add = (role: string, lines: string[], more: object) => {
    const path = `${role}.csv`;
    survey.package.resources.push({ name: role, path, role, ...more });
    survey.files[path] = [...lines];
  };
  add("base-checks", baseChecks, { campaign: "2031-10" });
  add("field-notes", fieldNotes, {});
  add("soil-temperature", soilTemperature, {});
  add("water-levels", waterLevels, {});
  const line = { line: "R1", runs: "along", chainage_m: 20, offset_m: 0 };
  add("resistivity-electrodes", electrodes, { lines: [line] });
  add("resistivity-readings", resistivity, {});
  add("boreholes", boreholes, {});
  add("strata", strata, {});
  add("laboratory", laboratory, {});
  add("incidents", incidents, {});
  add("cross-section", crossSection, {});
  return survey;
}

const baseChecks = [
  "time,spot,c_hcp,c_vcp",
  "2031-10-14T08:50:00+01:00,B0,30.1,25.2",
  "2031-10-14T09:10:00+01:00,B0,30.4,",
];
const fieldNotes = [
  "kind,object,from_m,to_m,longitude,latitude,campaign,text",
  "metal,gate,40,42,,,,field gate",
  "remark,,,,3.0011,54.0001,2031-10,wet ground",
];
const soilTemperature = [
  "time,depth_m,temperature_degC",
  "2031-10-13T12:00:00Z,0.2,12.5",
  "2031-10-13T12:00:00Z,1,13.1",
  "2031-06-13T12:00:00Z,0.2,17.5",
];
const waterLevels = [
  "time,point,level_m,chainage_m",
  "2031-10-14T08:00:00Z,river,1.2,",
  "2031-10-14T08:00:00Z,P1,1.7,60",
];
const electrodes = [
  "line,electrode,x_m,elevation_m",
  "R1,1,0,6.2",
  "R1,2,2,6.2",
  "R1,3,4,6.1",
  "R1,4,6,6.2",
];
const resistivity = [
  "line,a,b,m,n,current_mA,voltage_mV,deviation_pct",
  "R1,1,4,2,3,100,250,0.4",
  "R1,1,0,2,3,100,200,0.5",
];
const boreholes = [
  "borehole,chainage_m,offset_m,elevation_m,depth_m",
  "BH1,60,0.4,6.2,9",
  "BH2,160,-0.5,6.1,8",
];
const strata = [
  "borehole,top_m,base_m,soil,description",
  "BH1,0,1.6,siCl,brown",
  "BH1,1.6,9,Sa,",
  "BH2,0,8,clSi,",
];
const laboratory = ["borehole,depth_m,fines_pct,resistivity_ohm_m", "BH1,0.5,61,28.5", "BH2,2,,40"];
const incidents = ["date,chainage_m,kind,text", "2027-02-19,120,sand boil,ringed"];
const crossSection = ["chainage_m,crestElevation_m", "0,6.2", "200,6.0"];

/** The resource of a role. */
// biome-ignore lint/suspicious/noExplicitAny: as above
export function resourceOf(sketch: SketchedFolder, role: string): any {
  return sketch.package.resources.find((resource: { role: string }) => resource.role === role);
}

/** Gives a property another value. */
// biome-ignore lint/suspicious/noExplicitAny: as above
export function put(into: any, property: string | number, value: unknown): void {
  into[property] = value;
}

/** Puts another cell in the place of one: `row` is the line number, the header being 1. */
export function setCell(
  sketch: SketchedFolder,
  { file, row, field }: { readonly file: string; readonly row: number; readonly field: string },
  cell: string,
): void {
  const lines = sketch.files[file]!;
  const column = lines[0]!.split(",").indexOf(field);
  const cells = lines[row - 1]!.split(",");
  cells[column] = cell;
  lines[row - 1] = cells.join(",");
}
