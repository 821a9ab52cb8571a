import {
  type CompletedCommand,
  type CompletedOption,
  type CompletedValue,
  everyCommand,
} from "./completed-command.js";

/**
 * A completion script for bash, 3.2 or newer. Files and folders are left to readline, which knows
 * how names with spaces and quotes are written.
 */
export function bashCompletion(top: CompletedCommand): string {
  const commands = everyCommand(top);
  const deeper = commands.slice(1).map(({ path }) => quoted(path.join(" ")));
  return `# bash completion of ${top.path[0]}
_${top.path[0]}() {
  local cur="\${COMP_WORDS[COMP_CWORD]}" path="${top.path[0]}" option="" at=0 i
  for ((i = 1; i < COMP_CWORD; i++)); do
    case "\${COMP_WORDS[i]}" in
      -*) option="\${COMP_WORDS[i]}" at=$i ;;
    esac
    case "$path \${COMP_WORDS[i]}" in
      ${deeper.join(" | ")}) path="$path \${COMP_WORDS[i]}" option="" ;;
    esac
  done
  COMPREPLY=()
  if [[ $cur != -* ]]; then
    case "$path $option" in
${commands.flatMap(valueCases).join("\n")}
    esac
  fi
  case "$path" in
${commands.map(pathCase).join("\n")}
  esac
}
complete -o default -F _${top.path[0]} ${top.path[0]}
`;
}

function valueCases({ path, options }: CompletedCommand): readonly string[] {
  return options.flatMap(({ flags, value }) => {
    if (value === null) return [];
    const labels = flags.map((flag) => quoted([...path, flag].join(" "))).join(" | ");
    const offer = `${offered(value)}; return`;
    const guarded = value.variadic ? offer : `if ((at == COMP_CWORD - 1)); then ${offer}; fi`;
    return [`      ${labels}) ${guarded} ;;`];
  });
}

function pathCase(command: CompletedCommand): string {
  const { path, commands, options, values } = command;
  const flags = options.flatMap((option: CompletedOption) => option.flags);
  const below = commands.map((one) => one.path.at(-1) ?? "");
  const first = values[0];
  const plain =
    below.length > 0 || first === undefined
      ? `COMPREPLY=($(compgen -W ${quoted(below.join(" "))} -- "$cur"))`
      : offered(first);
  return [
    `    ${quoted(path.join(" "))})`,
    `      if [[ $cur == -* ]]; then COMPREPLY=($(compgen -W ${quoted(flags.join(" "))} -- "$cur"))`,
    `      else ${plain}; fi ;;`,
  ].join("\n");
}

function offered({ kind }: CompletedValue): string {
  if (kind === "file") return ":";
  if (kind === "folder") return "compopt -o dirnames +o default 2>/dev/null";
  if (kind === "free") return "compopt +o default 2>/dev/null";
  return `COMPREPLY=($(compgen -W ${quoted(kind.join(" "))} -- "$cur"))`;
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", `'\\''`)}'`;
}
