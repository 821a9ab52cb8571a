import { family } from "./faces.js";
import type { PaperText } from "./paper-text.js";

export interface Size {
  readonly width_pt: number;
  readonly height_pt: number;
}

/** A drawing in the paper's own letters. */
export function paperSvg(svg: string, text: PaperText): string {
  return svg
    .replace(/ font-family="[^"]*"/g, ` font-family="${family}"`)
    .replace(/>([^<]+)</g, (_, words: string) => `>${text(words).replaceAll("\u200b", "")}<`);
}

/** The size at which a drawing stands on paper: its own at 96 px an inch, or less to fit. */
export function paperSize(svg: string, room: Size): Size {
  const [width, height] = [lengthOf(svg, "width"), lengthOf(svg, "height")];
  if (!(width > 0 && height > 0)) return room;
  const scale = Math.min(room.width_pt / width, room.height_pt / height, 0.75);
  return {
    width_pt: Number((width * scale).toFixed(2)),
    height_pt: Number((height * scale).toFixed(2)),
  };
}

function lengthOf(svg: string, name: string): number {
  const [, value] = new RegExp(`^[^>]*? ${name}="([\\d.]+)(?:px)?"`).exec(svg) ?? [];
  return Number(value);
}
