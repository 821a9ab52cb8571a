import { Argument, type Command } from "commander";
import { bashCompletion } from "./bash.js";
import { type CompletedCommand, completedCommand } from "./completed-command.js";
import { fishCompletion } from "./fish.js";
import { zshCompletion } from "./zsh.js";

const scripts: Readonly<Record<string, (top: CompletedCommand) => string>> = {
  bash: bashCompletion,
  zsh: zshCompletion,
  fish: fishCompletion,
};

/** `banquette completion SHELL`: prints a script made from the definitions of all commands. */
export function addCompletion(main: Command): void {
  main
    .command("completion")
    .description("print a script by which a shell completes commands, options and files")
    .addArgument(new Argument("<SHELL>", "the shell").choices(Object.keys(scripts)))
    .action((shell: string) => {
      const script = scripts[shell]?.(completedCommand(main)) ?? "";
      process.stdout.write(script);
    });
}
