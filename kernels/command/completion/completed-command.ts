import type { Argument, Command, Option } from "commander";

/** What a shell offers for a value: files, folders, one of some words, or nothing it could know. */
export type ValueKind = "file" | "folder" | "free" | readonly string[];

export interface CompletedValue {
  /** Its name in the help, such as FOLDER. */
  readonly name: string;
  readonly kind: ValueKind;
  /** Whether further words belong to it too. */
  readonly variadic: boolean;
}

export interface CompletedOption {
  /** Such as ["-h", "--help"]. */
  readonly flags: readonly string[];
  readonly about: string;
  /** Null where the option takes no value. */
  readonly value: CompletedValue | null;
}

/** One command as its completion needs it. */
export interface CompletedCommand {
  /** The words that lead to it, the program's name first. */
  readonly path: readonly string[];
  readonly about: string;
  readonly commands: readonly CompletedCommand[];
  readonly options: readonly CompletedOption[];
  readonly values: readonly CompletedValue[];
}

/** The command and all below it, read from commander's own definitions. */
export function completedCommand(
  command: Command,
  above: readonly string[] = [],
): CompletedCommand {
  const path = [...above, command.name()];
  const { visibleCommands, visibleOptions } = visible(command);
  return {
    path,
    about: command.description(),
    commands: visibleCommands.map((one) => completedCommand(one, path)),
    options: visibleOptions.map(completedOption),
    values: command.registeredArguments.map(valueOfArgument),
  };
}

/** The command and all below it, as one list. */
export function everyCommand(top: CompletedCommand): readonly CompletedCommand[] {
  return [top, ...top.commands.flatMap(everyCommand)];
}

function visible(command: Command) {
  const help = command.createHelp();
  return {
    visibleCommands: help.visibleCommands(command),
    visibleOptions: help.visibleOptions(command),
  };
}

function completedOption(option: Option): CompletedOption {
  const flags = [option.short, option.long].filter((flag) => flag !== undefined);
  const takesOne = option.required || option.optional;
  return {
    flags,
    about: option.description,
    value: takesOne ? completedValue(placeholder(option.flags), option) : null,
  };
}

function placeholder(flags: string): string {
  return /[<[]([^>\]]+?)(?:\.\.\.)?[>\]]/.exec(flags)?.[1] ?? "";
}

function valueOfArgument(argument: Argument): CompletedValue {
  return completedValue(argument.name(), argument);
}

function completedValue(
  name: string,
  { argChoices, variadic }: Pick<Option, "argChoices" | "variadic">,
): CompletedValue {
  return { name, kind: argChoices ?? kindOf(name), variadic };
}

// The help's own words tell what a value is.
function kindOf(name: string): ValueKind {
  if (/^(FOLDER|DIR)$/.test(name)) return "folder";
  return /^(FILE|NOTEBOOK)$/.test(name) ? "file" : "free";
}
