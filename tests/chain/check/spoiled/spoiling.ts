// A way to spoil a sound survey folder, and the one fault that the check must name.
import { type SketchedFolder, setCell } from "../../../survey/support/survey-folder.js";

type Place = readonly [code: string, file: string, row: number | null, field: string | null];

export type Spoiling = readonly [
  what: string,
  spoil: (to: SketchedFolder) => void,
  place: Place,
  text: string,
];

/** Another cell in the place of one. */
export const cell =
  (file: string, row: number, field: string, value: string) => (to: SketchedFolder) =>
    setCell(to, { file, row, field }, value);

/** One more line at the end of a file. */
export const line = (file: string, text: string) => (to: SketchedFolder) =>
  to.files[file]!.push(text);
