/**
 * First letters of the months' names, without accents: English, German, Dutch, French, Spanish,
 * Italian.
 */
const MONTHS: readonly RegExp[] = [
  /^(jan|jän|ene|gen|janv)/,
  /^(feb|fev)/,
  /^(mar|mär|mae?r|maa|mrt)/,
  /^(apr|avr|abr)/,
  /^(may|mai|mei|mag)/,
  /^(jun|juin|giu)/,
  /^(jul|juil|lug)/,
  /^(aug|aou|ago)/,
  /^(sep|set)/,
  /^(oct|okt|ott)/,
  /^(nov)/,
  /^(dec|dez|dic)/,
];

/** 1 to 12; null for what is no month's name, whole or shortened. */
export function monthOf(word: string): number | null {
  const plain = word
    .toLowerCase()
    .normalize("NFD")
    .replace(/[\u0300-\u036f.]/g, "");
  if (!/^[a-z]{3,10}$/.test(plain)) return null;
  const at = MONTHS.findIndex((start) => start.test(plain));
  return at < 0 ? null : at + 1;
}
