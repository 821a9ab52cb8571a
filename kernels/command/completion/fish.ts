import {
  type CompletedCommand,
  type CompletedOption,
  type CompletedValue,
  everyCommand,
} from "./completed-command.js";

/** A completion script for fish, to lie in its folder of completions. */
export function fishCompletion(top: CompletedCommand): string {
  const program = top.path[0] ?? "";
  const lines = everyCommand(top).flatMap((command) => commandLines(command, program));
  return `# fish completion of ${program}
function __${program}_at --description 'whether the words so far begin with these'
    set -l words (commandline -opc)[2..-1]
    set -l plain (string match --invert -- '-*' $words)
    test (count $plain) -ge (count $argv); or return 1
    set -l i 0
    for word in $argv
        set i (math $i + 1)
        test "$plain[$i]" = "$word"; or return 1
    end
end
function __${program}_exactly --description 'whether the words so far are these'
    __${program}_at $argv; or return 1
    set -l plain (string match --invert -- '-*' (commandline -opc)[2..-1])
    test (count $plain) -eq (count $argv)
end
complete -c ${program} -f
${lines.join("\n")}
`;
}

function commandLines(command: CompletedCommand, program: string): readonly string[] {
  const words = command.path.slice(1).join(" ");
  const begin = (test: string) => `complete -c ${program} -n ${quoted(`${test} ${words}`.trim())}`;
  const exactly = begin(`__${program}_exactly`);
  const at = command.commands.length > 0 ? exactly : begin(`__${program}_at`);
  return [
    ...command.commands.map((one) => `${exactly} -a ${one.path.at(-1)} -d ${quoted(one.about)}`),
    ...command.options.map((option) => `${at} ${optionWords(option)}`),
    ...command.values.flatMap((value) => {
      const offer = offered(value);
      return offer === "" ? [] : [`${at} ${offer}`];
    }),
  ];
}

function optionWords({ flags, about, value }: CompletedOption): string {
  const names = flags.map((flag) =>
    flag.startsWith("--") ? `-l ${flag.slice(2)}` : `-s ${flag.slice(1)}`,
  );
  const taken = value === null ? [] : ["-r", offered(value)];
  return [...names, ...taken, "-d", quoted(about)].filter((word) => word !== "").join(" ");
}

function offered({ kind }: CompletedValue): string {
  if (kind === "file") return "-F";
  if (kind === "folder") return "-a '(__fish_complete_directories)'";
  return kind === "free" ? "" : `-a ${quoted(kind.join(" "))}`;
}

const quoted = (text: string) => `'${text.replace(/['\\]/g, "\\$&")}'`;
