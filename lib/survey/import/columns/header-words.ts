import { metresIn, readingUnit } from "../values/unit-text.js";

/** A column's name as it is compared, and its unit as it is written. */
export interface HeaderWords {
  /** Lower case, without accents, signs and brackets, words apart. */
  readonly words: string;
  /** The same with what stands in brackets and is no unit. */
  readonly all: string;
  readonly unit: string;
}

const BRACKETS = /[[({]\s*([^\])}]*?)\s*[\])}]/g;
const TRAILING = /[_ ,/]+(?:in[_ ]+)?(ppm|ppt|m?S\/m|[mµμu]?S_(?:per_)?m|mS\/cm|[µμu]S\/cm|%)$/;

/** Parts a header such as `Cond. 1 (HCP) [mS/m]`, `lon_deg` or `Q9k_ppm` into words and unit. */
export function headerWords(header: string, unitBelow = ""): HeaderWords {
  const inside = [...header.matchAll(BRACKETS)].map(([, text = ""]) => text);
  const bare = header.replace(BRACKETS, " ").trim();
  const trailing = TRAILING.exec(bare);
  const name = trailing === null ? bare : bare.slice(0, trailing.index);
  const isUnit = (text: string) => readingUnit(text) !== null || metresIn(text) !== null;
  const others = inside.filter((text) => !isUnit(text));
  return {
    words: plainWords(name),
    all: plainWords([name, ...others].join(" ")),
    unit:
      unitBelow.replace(/^[[(]|[\])]$/g, "") ||
      inside.find(isUnit) ||
      (trailing?.[1] ?? "").replace(/_(per_)?/, "/"),
  };
}

function plainWords(text: string): string {
  return text
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .toLowerCase()
    .normalize("NFD")
    .replace(/[\u0300-\u036f]/g, "")
    .replace(/ß/g, "ss")
    .replace(/(\d),(\d)/g, "$1.$2")
    .replace(/(?<!\d)\.|\.(?!\d)|[^a-z0-9.]+/g, " ")
    .trim();
}
