import { type Code, unsigned } from "./code.js";

/** Types of values. Source: WebAssembly Core Specification 2.0, section 5.3. */
const TYPES = { i32: 0x7f, f64: 0x7c, v128: 0x7b } as const;
export type ValueType = keyof typeof TYPES;

export interface WasmFunction {
  readonly name: string;
  readonly given: readonly ValueType[];
  /** Null: it gives nothing. */
  readonly gives: ValueType | null;
  /** Types of the variables after those given. */
  readonly locals: readonly ValueType[];
  readonly body: Code;
}

type Typed<Names> = { readonly [Name in keyof Names]: ValueType };
type Numbered<Names> = { readonly [Name in keyof Names]: number };

/** A function whose variables are known by name where its body is written. */
export function wasmFunction<Given extends Typed<Given>, Locals extends Typed<Locals>>(
  name: string,
  { given, locals, gives = null }: Signature<Given, Locals>,
  body: (at: Numbered<Given & Locals>) => Code,
): WasmFunction {
  const names = [...Object.keys(given), ...Object.keys(locals)];
  const at = Object.fromEntries(names.map((one, i) => [one, i])) as Numbered<Given & Locals>;
  const types = (of: object) => Object.values(of) as ValueType[];
  return { name, given: types(given), locals: types(locals), gives, body: body(at) };
}

interface Signature<Given, Locals> {
  readonly given: Given;
  readonly locals: Locals;
  readonly gives?: ValueType | null;
}

/** The bytes of a module that works in the memory it imports as `of.memory`; see section 5.5. */
export function moduleBytes(functions: readonly WasmFunction[]): Uint8Array<ArrayBuffer> {
  const types = functions.map(({ given, gives }) => [
    0x60,
    list(given.map((type) => [TYPES[type]])),
    list(gives === null ? [] : [[TYPES[gives]]]),
  ]);
  const memory = [text("of"), text("memory"), 0x02, 0x00, 0x00];
  const exported = functions.map(({ name }, i) => [text(name), 0x00, unsigned(i)]);
  return Uint8Array.from(
    flat([
      [0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00],
      section(1, list(types)),
      section(2, list([memory])),
      section(3, list(functions.map((_, i) => unsigned(i)))),
      section(7, list(exported)),
      section(10, list(functions.map(functionBody))),
    ]),
  );
}

function functionBody({ locals, body }: WasmFunction): Code {
  const content = flat([list(locals.map((type) => [1, TYPES[type]])), body, 0x0b]);
  return [unsigned(content.length), content];
}

function section(id: number, content: Code): Code {
  const bytes = flat(content);
  return [id, unsigned(bytes.length), bytes];
}

const list = (items: readonly Code[]): Code => [unsigned(items.length), ...items];
const text = (value: string): Code => list(Array.from(value, (letter) => [letter.charCodeAt(0)]));

function flat(code: Code): number[] {
  return code.flatMap((one) => (typeof one === "number" ? [one] : flat(one)));
}
