/** What a command says and where: results on stdout, everything else on stderr, as text or one JSON object a line. */
import picocolors from "picocolors";
import { PROBLEM_CODES, type ProblemCode } from "../problems.ts";

export interface CommonOptions {
  readonly quiet?: boolean;
  readonly log?: "text" | "json";
  readonly debug?: boolean;
}

export type Level = "info" | "warning" | "error";

export interface Terminal {
  /** The command's result, to stdout. */
  result(text: string): void;
  /** A message about the run, to stderr. */
  note(level: Level, message: string): void;
}

/** Name of a run in logs: when it started and which process it was. */
export const runName = (now: Date, pid: number): string =>
  `${now.toISOString().replace(/[-:]|\.\d+/g, "")}-${pid}`;

/**
 * The terminal of one command.
 *
 * @param options  quiet leaves out what is neither result nor trouble; log json writes one object a line to stderr
 * @param run      name of the run in those objects
 */
export function openTerminal(options: CommonOptions, run: string): Terminal {
  return {
    result: (text) => {
      process.stdout.write(text.endsWith("\n") ? text : `${text}\n`);
    },
    note(level, message) {
      if (options.quiet && level === "info") return;
      if (options.log === "json") {
        process.stderr.write(`${JSON.stringify({ level, run, message, ...codeIn(message) })}\n`);
      } else process.stderr.write(`${coloured(level, message)}\n`);
    },
  };
}

/** Problem codes stand at the end of messages, in brackets. */
function codeIn(message: string): { code?: ProblemCode } {
  const code = /\[([EW]-[A-Z0-9-]+)\]$/.exec(message)?.[1];
  return code !== undefined && code in PROBLEM_CODES ? { code: code as ProblemCode } : {};
}

/** Colour only where a person sees it (not with NO_COLOR, not in a file), and never alone: the word comes first. */
function coloured(level: Level, message: string): string {
  const colours = picocolors.createColors(Boolean(process.stderr.isTTY) && !process.env.NO_COLOR);
  if (level === "error") return `${colours.red("error:")} ${message}`;
  if (level === "warning") return `${colours.yellow("warning:")} ${message}`;
  return message;
}

/** A reader that goes away (`| head`) ends the program quietly. */
export function endQuietlyOnClosedPipe(): void {
  for (const stream of [process.stdout, process.stderr]) {
    stream.on("error", (error: NodeJS.ErrnoException) => {
      if (error.code === "EPIPE") process.exit(process.exitCode ?? 0);
      throw error;
    });
  }
}
