import { wrapped } from "./text.js";
import { fontSizes } from "./theme.js";

export interface Headed {
  readonly title: string;
  readonly subtitle?: string;
}

/** The title and subtitle of a figure, wrapped to its width. */
export function titleBlock(
  headed: Headed,
  width_px: number,
): {
  text: string[];
  subtitle?: string[];
} {
  const text = wrapped(headed.title, width_px, { size_px: fontSizes.title, weight: "bold" });
  if (headed.subtitle === undefined || headed.subtitle === "") return { text };
  const subtitle = wrapped(headed.subtitle, width_px, { size_px: fontSizes.subtitle });
  return { text, subtitle };
}
