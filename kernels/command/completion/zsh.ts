import {
  type CompletedCommand,
  type CompletedOption,
  type CompletedValue,
  everyCommand,
} from "./completed-command.js";

/** A completion script for zsh, to lie as a file in a folder of `fpath` or to be sourced. */
export function zshCompletion(top: CompletedCommand): string {
  const name = functionName(top);
  return `#compdef ${top.path[0]}
${everyCommand(top).map(commandFunction).join("\n")}
if [ "$funcstack[1]" = "${name}" ]; then
  ${name} "$@"
else
  compdef ${name} ${top.path[0]}
fi
`;
}

function commandFunction(command: CompletedCommand): string {
  const specs = [
    ...command.options.map(optionSpec),
    ...(command.commands.length > 0
      ? ["'1: :->command'", "'*:: :->below'"]
      : command.values.map(valueSpec)),
  ];
  const lines = specs.map((spec) => ` \\\n    ${spec}`).join("");
  return `${functionName(command)}() {
  local context state state_descr line
  typeset -A opt_args
  _arguments -C${lines}
${command.commands.length > 0 ? below(command) : ""}}`;
}

function below({ commands }: CompletedCommand): string {
  const described = commands.map((one) => quoted(`${one.path.at(-1)}:${plain(one.about)}`));
  const cases = commands.map((one) => `        ${one.path.at(-1)}) ${functionName(one)} ;;`);
  return `  case $state in
    command)
      local -a commands=(${described.join(" ")})
      _describe command commands ;;
    below)
      case $line[1] in
${cases.join("\n")}
      esac ;;
  esac
`;
}

function optionSpec({ flags, about, value }: CompletedOption): string {
  const shown = value === null ? "" : `:${value.name}:${action(value)}`;
  const each = flags.map((flag) => {
    const several = value?.variadic === true ? "*" : "";
    return quoted(`${several}${flag}[${plain(about)}]${shown}`);
  });
  return each.join(" ");
}

function valueSpec(value: CompletedValue, at: number): string {
  return quoted(`${value.variadic ? "*" : at + 1}:${value.name}:${action(value)}`);
}

function action({ kind }: CompletedValue): string {
  if (kind === "file") return "_files";
  if (kind === "folder") return "_files -/";
  return kind === "free" ? " " : `(${kind.join(" ")})`;
}

const functionName = ({ path }: CompletedCommand) => `_${path.join("_")}`;

const plain = (text: string) => text.replace(/[[\]:\\]/g, "\\$&");

const quoted = (text: string) => `'${text.replaceAll("'", `'\\''`)}'`;
