/** How a failed command ends: a message a person can act on, or what to report where the program is at fault. */
import { EXIT, RotorwearError } from "../problems.ts";
import { programVersion } from "../run/program.ts";
import type { CommonOptions, Terminal } from "./terminal.ts";

/** Says what went wrong and gives the exit code. */
export function reportFailure(error: unknown, terminal: Terminal, options: CommonOptions): number {
  if (error instanceof RotorwearError) {
    terminal.note("error", error.message);
    return error.exitCode;
  }
  const message = error instanceof Error ? error.message : String(error);
  const stack = error instanceof Error ? (error.stack ?? message) : message;
  terminal.note(
    "error",
    `this is a bug in rotorwear: ${message}\n` +
      `please report this line, the command you ran, and: rotorwear ${programVersion()}, Node ${process.version}, ${process.platform}` +
      (options.debug ? `\n${stack}` : "\nrun it again with --debug to see where it happened"),
  );
  return EXIT.bug;
}
