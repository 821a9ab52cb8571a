import { isSameNumber } from "./compare-values.js";

/** Two texts about their first difference. */
export interface TextDifference {
  readonly was: string;
  readonly is: string;
}

const number = /\d+(?:\.\d+)?(?:e[-+]?\d+)?/gi;
/** Characters shown before and after the first difference. */
const before = 30;
const after = 60;

/**
 * Where two texts first differ in words, or in numbers beyond the tolerance; null where nowhere.
 */
export function textDifference(was: string, is: string, tolerance: number): TextDifference | null {
  if (was === is) return null;
  const [ones, others] = [[...was.matchAll(number)], [...is.matchAll(number)]];
  let [from, fromOther] = [0, 0];
  for (let i = 0; i <= Math.max(ones.length, others.length); i++) {
    const [one, other] = [ones[i], others[i]];
    const words = was.slice(from, one?.index);
    const otherWords = is.slice(fromOther, other?.index);
    if (words !== otherWords) {
      const shared = sharedLength(words, otherWords);
      return excerpts({ was, is }, [from + shared, fromOther + shared]);
    }
    if (one === undefined || other === undefined) return null;
    if (!isSameNumber(Number(one[0]), Number(other[0]), tolerance)) {
      return excerpts({ was, is }, [one.index, other.index]);
    }
    from = one.index + one[0].length;
    fromOther = other.index + other[0].length;
  }
  return null;
}

function sharedLength(one: string, other: string): number {
  let at = 0;
  while (at < one.length && at < other.length && one[at] === other[at]) at++;
  return at;
}

function excerpts(
  { was, is }: TextDifference,
  [at, atOther]: readonly [number, number],
): TextDifference {
  const cut = (text: string, place: number) =>
    text.slice(Math.max(0, place - before), place + after);
  return { was: cut(was, at), is: cut(is, atOther) };
}
