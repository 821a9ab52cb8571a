// The boxes of all texts in a drawing, to see that no two of them meet.
import { textWidth } from "../../../lib/figures/text.js";

export interface TextBox {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Texts as they stand on the paper, line by line; a halo and the text before it are one. */
export function textBoxes(svg: string): readonly TextBox[] {
  const boxes: TextBox[] = [];
  const places: (readonly [number, number])[] = [[0, 0]];
  for (const [, close, tag, attributes, content] of svg.matchAll(
    /<(\/?)(g|text)\b([^>]*)>((?:<\/?tspan[^>]*>|[^<])*)/g,
  )) {
    const [x, y] = places.at(-1)!;
    if (tag === "g" && close === "/") places.pop();
    else if (tag === "g") places.push(moved([x, y], attributes!));
    else if (close === "") boxes.push(...lineBoxes(content!, attributes!, [x, y]));
  }
  const seen = new Set<string>();
  return boxes.filter((box) => {
    const key = JSON.stringify(box);
    const isNew = !seen.has(key);
    seen.add(key);
    return isNew;
  });
}

/** One box a line; lines of a text that is broken are tspans, each some px under the last. */
function lineBoxes(
  content: string,
  attributes: string,
  [x, y]: readonly [number, number],
): readonly TextBox[] {
  if (!content.includes("<tspan")) {
    return content === "" ? [] : [boxOf(content, attributes, [x, y])];
  }
  let down = 0;
  return [...content.matchAll(/<tspan([^>]*)>([^<]*)/g)].map(([, own, line]) => {
    down += Number(/dy="([-\d.]+)"/.exec(own!)?.[1] ?? 0);
    return boxOf(line!, attributes, [x, y + down]);
  });
}

/** Pairs of texts that meet by more than a hair. */
export function meetingTexts(svg: string): readonly string[] {
  const boxes = textBoxes(svg);
  return boxes.flatMap((a, i) =>
    boxes
      .slice(i + 1)
      .filter((b) => meets(a, b))
      .map((b) => `${a.text} | ${b.text}`),
  );
}

const HAIR_PX = 1;

function meets(a: TextBox, b: TextBox): boolean {
  return (
    a.left < b.right - HAIR_PX &&
    b.left < a.right - HAIR_PX &&
    a.top < b.bottom - HAIR_PX &&
    b.top < a.bottom - HAIR_PX
  );
}

function moved([x, y]: readonly [number, number], attributes: string): readonly [number, number] {
  const [, dx = "0", dy = "0"] = /translate\(([-\d.]+)[ ,]+([-\d.]+)\)/.exec(attributes) ?? [];
  return [x + Number(dx), y + Number(dy)];
}

function boxOf(written: string, attributes: string, group: readonly [number, number]): TextBox {
  const text = written.replaceAll("&amp;", "&").replaceAll("&lt;", "<").replaceAll("&gt;", ">");
  const [x, y] = moved(group, attributes);
  const size = Number(/font-size="([\d.]+)px"/.exec(attributes)?.[1] ?? 11);
  const weight = /font-weight="bold"/.test(attributes) ? "bold" : "normal";
  const width = textWidth(text, size, weight);
  const anchor = /text-anchor="(\w+)"/.exec(attributes)?.[1] ?? "start";
  const before = { start: 0, middle: width / 2, end: width }[anchor] ?? 0;
  // Letters rise about 0.72 em above the line that they stand on and reach 0.2 em below it.
  const [up, down] = [0.72 * size, 0.2 * size];
  const upright = /rotate\(-90\)/.test(attributes);
  return upright
    ? { text, left: x - up, right: x + down, top: y - (width - before), bottom: y + before }
    : { text, left: x - before, right: x - before + width, top: y - up, bottom: y + down };
}
