import { wrapped } from "./text.js";
import { fontSizes } from "./theme.js";

type Json = Readonly<Record<string, unknown>>;

export interface Headed {
  readonly title: string;
  readonly subtitle?: string;
}

/** The title and subtitle of a figure, wrapped to its width. */
export function titleBlock(headed: Headed, width_px: number): Json {
  const text = wrapped(headed.title, width_px, { size_px: fontSizes.title, weight: "bold" });
  if (headed.subtitle === undefined || headed.subtitle === "") return { text: [...text] };
  const subtitle = wrapped(headed.subtitle, width_px, { size_px: fontSizes.subtitle });
  return { text: [...text], subtitle: [...subtitle] };
}
