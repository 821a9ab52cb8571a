// Ways to spoil JSON and text at random, for fuzzing by processes that run the built package.

const odd = [
  null,
  true,
  0,
  -1,
  1e308,
  1e-308,
  "",
  " ",
  "\u0000",
  "\u001b[2J",
  "__proto__",
  "../..",
  "🌊".repeat(300),
  [],
  {},
  [[]],
  [null],
  { length: -1 },
  "2031-10-14",
  "x".repeat(100_000),
];
const pieces = [
  ..."\",;\n\r\t\u0000",
  "NaN",
  "1e999",
  "-1e300",
  "9999",
  "\ufeff",
  "\u202e",
  "=1+1",
  "💧",
  "﹣1",
  "1,5",
  '""',
  "0".repeat(400),
];

const oneOf = (random, list) => list[random.integer(list.length)];

/** A copy of a JSON value with one node changed, taken away, doubled or buried. */
export function mutatedJson(random, value) {
  const copy = structuredClone(value);
  const holders = [];
  const visit = (node) => {
    if (typeof node !== "object" || node === null) return;
    for (const key of Object.keys(node)) {
      holders.push([node, key]);
      visit(node[key]);
    }
  };
  visit(copy);
  if (holders.length === 0) return oneOf(random, odd);
  const [holder, key] = oneOf(random, holders);
  const kind = random.integer(6);
  if (kind === 0) delete holder[key];
  else if (kind === 1) holder[key] = [holder[key], holder[key]];
  else if (kind === 2 && Array.isArray(holder)) holder.push(structuredClone(holder[key]));
  else if (kind === 3) holder[key] = buried(holder[key], random.integer(300));
  else if (kind === 4 && typeof holder[key] === "string")
    holder[key] = mutatedText(random, holder[key]);
  else holder[key] = oneOf(random, odd);
  return copy;
}

function buried(value, depth) {
  let inner = value;
  for (let i = 0; i < depth; i++) inner = i % 2 === 0 ? [inner] : { a: inner };
  return inner;
}

/** A text with a piece cut out and another put in, or with lines moved about. */
export function mutatedText(random, text) {
  const at = random.integer(text.length + 1);
  const kind = random.integer(5);
  if (kind === 0) {
    const lines = text.split("\n");
    const [one, other] = [random.integer(lines.length), random.integer(lines.length)];
    [lines[one], lines[other]] = [lines[other], lines[one]];
    return lines.join("\n");
  }
  if (kind === 1) {
    const lines = text.split("\n");
    lines.splice(random.integer(lines.length), 0, oneOf(random, lines));
    return lines.join("\n");
  }
  if (kind === 2) return text.slice(0, at);
  return text.slice(0, at) + oneOf(random, pieces) + text.slice(at + random.integer(12));
}
