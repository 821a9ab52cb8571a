import { textWidth } from "./text.js";

interface LabelWish {
  /** Anchor on the paper, px. */
  readonly x: number;
  readonly y: number;
  readonly text: string;
}

/** Where a label goes: its left end and its middle height, px. */
interface PlacedLabel extends LabelWish {
  readonly left: number;
  readonly middle: number;
}

interface LabelSpace {
  readonly width_px: number;
  readonly height_px: number;
  readonly size_px: number;
  /** Distance between the anchor and its label, px. */
  readonly distance_px: number;
  /** Places on the paper that labels keep clear of, px. */
  readonly obstacles: readonly (readonly [number, number])[];
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/**
 * A place for each label around its anchor that meets no earlier label and as few obstacles as can
 * be; a label without a free place is left out.
 */
export function placeLabels(
  wishes: readonly LabelWish[],
  space: LabelSpace,
): readonly PlacedLabel[] {
  const taken: Box[] = [];
  const placed: PlacedLabel[] = [];
  for (const wish of wishes) {
    const free = candidates(wish, space).filter(
      (box) => inside(box, space) && !taken.some((other) => meets(box, other)),
    );
    const best = free
      .map((box) => ({ box, hits: hits(box, space) }))
      .sort((a, b) => a.hits - b.hits)[0];
    if (best === undefined) continue;
    taken.push(best.box);
    placed.push({ ...wish, left: best.box.left, middle: (best.box.top + best.box.bottom) / 2 });
  }
  return placed;
}

function candidates(wish: LabelWish, space: LabelSpace): readonly Box[] {
  const width = textWidth(wish.text, space.size_px) + 2;
  const half = space.size_px * 0.62;
  const out = space.distance_px;
  const at = (left: number, middle: number): Box => ({
    left,
    right: left + width,
    top: middle - half,
    bottom: middle + half,
  });
  const { x, y } = wish;
  return [1, 1.8].flatMap((far) => [
    at(x - width / 2, y - (out + half) * far),
    at(x - width / 2, y + (out + half) * far),
    at(x + out * far, y),
    at(x - out * far - width, y),
    at(x + out * far * 0.7, y - (out * 0.7 + half) * far),
    at(x - out * far * 0.7 - width, y - (out * 0.7 + half) * far),
    at(x + out * far * 0.7, y + (out * 0.7 + half) * far),
    at(x - out * far * 0.7 - width, y + (out * 0.7 + half) * far),
  ]);
}

function inside(box: Box, space: LabelSpace): boolean {
  return (
    box.left >= 0 && box.right <= space.width_px && box.top >= 0 && box.bottom <= space.height_px
  );
}

function meets(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}

function hits(box: Box, space: LabelSpace): number {
  return space.obstacles.filter(
    ([x, y]) => x > box.left - 3 && x < box.right + 3 && y > box.top - 3 && y < box.bottom + 3,
  ).length;
}
