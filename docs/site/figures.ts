import { mkdir, writeFile } from "node:fs/promises";
import { basename, join, relative } from "node:path/posix";
import type { CellOutput } from "../../kernels/session/show/outputs.js";

export interface Picture {
  readonly title: string;
  readonly caption: string;
  readonly svg: string;
}

/** The figure that an output shows; null where it shows something else. */
export function pictureOf(output: CellOutput): Picture | null {
  if (output.output_type !== "display_data" && output.output_type !== "execute_result") return null;
  const svg = output.data["image/svg+xml"];
  if (typeof svg !== "string") return null;
  const [title = "", ...caption] = String(output.data["text/plain"] ?? "").split("\n");
  return { title, caption: caption.join(" "), svg };
}

/** Files of pictures beside the pages, numbered by page. */
export class Pictures {
  readonly #folder: string;
  readonly #counts = new Map<string, number>();

  constructor(folder: string) {
    this.#folder = folder;
  }

  /** Writes the picture, and gives the Markdown that shows it in that page. */
  async put({ title, caption, svg }: Picture, page: string): Promise<string> {
    const count = (this.#counts.get(page) ?? 0) + 1;
    this.#counts.set(page, count);
    const file = join("pictures", `${basename(page, ".md")}-${count}.svg`);
    await mkdir(join(this.#folder, "pictures"), { recursive: true });
    await writeFile(join(this.#folder, file), svg);
    const path = relative(join("/", page, ".."), join("/", file));
    const alt = title.replace(/[[\]\n]/g, " ").trim();
    return `![${alt}](${path})\n\n*${title.trim()}.* ${escaped(caption)}`;
  }
}

/** Text as Markdown that shows it as it is. */
export function escaped(text: string): string {
  return text.replace(/[\\`*_{}[\]<>@|]/g, "\\$&");
}
