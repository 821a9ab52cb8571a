interface Newer {
  /** The name, or what it is a property of and the name, as a type error says them. */
  readonly names: RegExp;
  readonly node: number;
}

const helpers = "map|filter|take|drop|flatMap|reduce|toArray|forEach|some|every|find";

// Node.js release notes: 22.0 (V8 12.4), 24.0 (V8 13.6).
const newer: readonly Newer[] = [
  { names: /^Iterator$/, node: 22 },
  {
    names: new RegExp(`^\\w*(?:Iterator|Generator)(?:Object)?(?:<.*>)?\\.(?:${helpers})$`),
    node: 22,
  },
  {
    names: /^ArrayBuffer\.(?:transfer|transferToFixedLength|resize|resizable|detached)$/,
    node: 22,
  },
  { names: /^(?:Async)?DisposableStack$|^SuppressedError$/, node: 24 },
  { names: /^PromiseConstructor\.try$|^ErrorConstructor\.isError$/, node: 24 },
  { names: /^Float16Array$|^Math\.f16round$|^DataView(?:<.*>)?\.[gs]etFloat16$/, node: 24 },
];

const unknownProperty = /^Property '([^']+)' does not exist on type '([^']+)'/;
const unknownName = /^(?:Cannot find name )?'([^']+)'(?:\.| only refers to a type)/;
const compilerAdvice = / Do you need to change your target library\?.*$/;

/** A type error's text, which says so where the name came with a later version of Node. */
export function withNewerNode(text: string): string {
  const told = text.replace(compilerAdvice, "");
  const [, property, type] = unknownProperty.exec(told) ?? [];
  const name = type === undefined ? unknownName.exec(told)?.[1] : `${type}.${property}`;
  const node = newer.find(({ names }) => name !== undefined && names.test(name))?.node;
  const running = process.versions.node;
  if (node === undefined || Number.parseInt(running, 10) >= node) return told;
  return `${told.replace(/\.$/, "")}; it came with Node ${node}, and this is Node ${running}`;
}
