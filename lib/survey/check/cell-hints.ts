/** What is likely meant by a cell that is no number; null where nothing comes to mind. */
export function numberHint(text: string): string | null {
  return NUMBER_HINTS.find(([pattern]) => pattern.test(text))?.[1] ?? null;
}

const NUMBER_HINTS: readonly (readonly [RegExp, string])[] = [
  [/^[+-]?\d+,\d+$/, 'decimal comma: give the field "decimalChar": ","'],
  [/^\d+\+\d{3}(\.\d+)?$/, "looks like kilometres and metres; give metres"],
  [/\d\s*[°ºd]|^[NSEW]\s*\d|\d\s*[NSEW]$/, "give degrees with decimals, west and south below zero"],
  [
    /^(#|n\.?[/.]?a|nan|null|none|-+$|err)/i,
    'leave the cell blank, or list the mark under "missingValues"',
  ],
  [/^[−–—]\s*[\d.]/, "the sign is a dash; write a minus, -"],
  [
    /^[<>≤≥~]\s*[\d.]/,
    "a bound is no value; leave the cell blank and keep the bound in a text column",
  ],
  [/^[+-]?\d{1,3}([\s'’]\d{3})+([.,]\d+)?$/, "digits in groups; write them together"],
  [/^[+-]?[\d.]+\s*[a-zµμ%Ω/²³]+$/i, "give the number alone; its unit is known"],
];

/** What is likely meant by a cell that is no time. */
export function timeHint(text: string): string | null {
  if (/^\d{9,13}(\.\d+)?$/.test(text)) return "looks like seconds or milliseconds since 1970";
  if (/^\d{5}\.\d+$/.test(text)) return "looks like a spreadsheet's day number";
  if (/^\d{1,2}[./-]\d{1,2}[./-]\d{2,4}\b/.test(text)) return "year first, then month and day";
  if (/^\d{1,2}:\d{2}/.test(text)) return "the date is missing";
  return null;
}
