#!/usr/bin/env node
/**
 * The command line: which commands there are, what they take, and how they end. Each command's work is loaded only when it
 * is asked for, so that --help answers at once.
 */
import { Command, CommanderError, Option } from "commander";
import { EXIT } from "../problems.ts";
import { programVersion } from "../run/program.ts";
import { asOf, confidence, failOn, months, positive, replayed, threads, wholeNumber } from "./arguments.ts";
import { reportFailure } from "./failure.ts";
import {
  type CommonOptions,
  endQuietlyOnClosedPipe,
  openTerminal,
  runName,
  type Terminal,
} from "./terminal.ts";

/** A command's work: gives the exit code. */
type Work<T> = (terminal: Terminal, run: string) => Promise<T>;

async function perform(options: CommonOptions, work: Work<number>): Promise<void> {
  const run = runName(new Date(Date.now()), process.pid);
  const terminal = openTerminal(options, run);
  try {
    process.exitCode = await work(terminal, run);
  } catch (error) {
    process.exitCode = reportFailure(error, terminal, options);
  }
}

function command(program: Command, usage: string, summary: string, example: string): Command {
  return program
    .command(usage)
    .description(summary)
    .addHelpText("after", `\nExample:\n  ${example}\n`)
    .option("--quiet", "say nothing but results and trouble")
    .addOption(
      new Option("--log <format>", "how messages on stderr look").choices(["text", "json"]).default("text"),
    )
    .option("--debug", "show where in the program an unexpected error happened");
}

function addFleetCommands(program: Command): void {
  command(
    program,
    "report <fleet-file>",
    "the monthly run: reads the exports and publishes the month's report",
    "rotorwear report data-samples/demonstration/fleet.yaml --out reports",
  )
    .option(
      "--as-of <date>",
      "YYYY-MM-DD or last-month-end (default: the last month-end the exports reach)",
      asOf,
    )
    .option("--out <folder>", "where months are published", "reports")
    .option("--exports <folder>", "where the fleet file's patterns resolve (default: its own folder)")
    .option("--no-keep-inputs", "don't keep the exports; verify can't recompute the month then")
    .option("--no-cache", "read every export anew; neither use nor keep what was read before")
    .option(
      "--threads <number>",
      "threads that read exports, answer groups and draw charts (default: one a processor, at most 4)",
      threads,
    )
    .option("--keep <months>", "remove the pages of all but the newest months; never their run.json", months)
    .option("--dry-run", "with --keep: only show what it would remove")
    .option("--fail-on <list>", "exit 4 where the month raises one of act,shorten,alert,quality", failOn)
    .option("--pdf", "print the officer's pages to pdf/ with a Chromium, Chrome or Edge that is installed")
    .option("--json", "the outcome as JSON on stdout")
    .action((file, options) =>
      perform(options, async (...at) => (await import("./report.ts")).reportCommand(file, options, ...at)),
    );
  command(
    program,
    "check <fleet-file>",
    "says what was accepted, rejected and detected in the exports; publishes nothing",
    "rotorwear check data-samples/demonstration/fleet.yaml",
  )
    .option("--exports <folder>", "where the fleet file's patterns resolve (default: its own folder)")
    .option("--files", "also the ledger of each file")
    .option("--json", "all of it as JSON on stdout")
    .action((file, options) =>
      perform(options, async (terminal) =>
        (await import("./check.ts")).checkCommand(file, options, terminal),
      ),
    );
  command(
    program,
    "trace <fleet-file>",
    "shows every row of one component, as recorded and as used, and the lives they made",
    "rotorwear trace data-samples/demonstration/fleet.yaml --component 001003",
  )
    .requiredOption("--component <serial>", "serial as the exports write it")
    .option("--as-of <date>", "YYYY-MM-DD or last-month-end (default: the latest date in the exports)", asOf)
    .option("--exports <folder>", "where the fleet file's patterns resolve (default: its own folder)")
    .option("--json", "the result as JSON on stdout")
    .action((file, options) =>
      perform(options, async (terminal) =>
        (await import("./trace.ts")).traceCommand(file, options, terminal),
      ),
    );
  command(
    program,
    "replay <fleet-file>",
    "decides past months again with what was exported by then, and holds them against what came after",
    "rotorwear replay data-samples/demonstration/fleet.yaml --months 6 --out reports",
  )
    .option("--months <count>", "how many month-ends, the last one at or before the as-of day", replayed, 24)
    .option(
      "--as-of <date>",
      "YYYY-MM-DD or last-month-end (default: the last month-end the exports reach)",
      asOf,
    )
    .option("--out <folder>", "where the record is published", "reports")
    .option("--exports <folder>", "where the fleet file's patterns resolve (default: its own folder)")
    .option("--threads <number>", "threads that replay months (default: one a processor, at most 4)", threads)
    .option("--json", "the outcome as JSON on stdout")
    .action((file, options) =>
      perform(options, async (...at) => (await import("./replay.ts")).replayCommand(file, options, ...at)),
    );
  command(
    program,
    "verify <folder>",
    "recomputes a published month from the inputs kept, and compares byte for byte",
    "rotorwear verify reports",
  )
    .option("--json", "the outcome as JSON on stdout")
    .action((folder, options) =>
      perform(options, async (terminal) =>
        (await import("./verify.ts")).verifyCommand(folder, options, terminal),
      ),
    );
}

function addTableCommands(program: Command): void {
  command(
    program,
    "life <table>",
    "fits Weibull lives to a table [entry,]lower,upper[,count][,group][,flown]: hours, empty upper = still running",
    "rotorwear life data-samples/published/turbine-wheels-life.csv",
  )
    .option("--by <column>", "fit each value of this column apart (default: group, where there is one)")
    .option("--confidence <level>", "of the two-sided bounds", confidence, 0.95)
    .option("--naive", "also what shortcuts would have said of the 10 % life, and by how much they mislead")
    .option("--svg <file>", "also the lives on Weibull axes, as an SVG file")
    .option("--json", "the result as JSON on stdout")
    .action((table, options) =>
      perform(options, async (terminal) => (await import("./life.ts")).lifeCommand(table, options, terminal)),
    );
  command(
    program,
    "wear <table>",
    "fits wear rates to a table component,hours,wear[,group]: hours, millimetres",
    "rotorwear wear data-samples/published/crack-growth-wear.csv --limit 17.78",
  )
    .option("--by <column>", "fit each value of this column apart (default: group, where there is one)")
    .option("--confidence <level>", "of the two-sided bounds", confidence, 0.95)
    .option("--limit <mm>", "also the hours at which the average line reaches this wear", positive)
    .option("--svg <file>", "also the readings with the fitted lines, as an SVG file")
    .option("--json", "the result as JSON on stdout")
    .action((table, options) =>
      perform(options, async (terminal) => (await import("./wear.ts")).wearCommand(table, options, terminal)),
    );
}

function addStartingCommands(program: Command): void {
  command(
    program,
    "init [folder]",
    "writes a commented fleet file for the CSV exports found in a folder",
    "rotorwear init my-exports",
  )
    .option("--schema", "print the JSON schema of fleet files instead")
    .action((folder, options) =>
      perform(options, async (terminal) =>
        (await import("./init.ts")).initCommand(folder, options, terminal),
      ),
    );
  command(
    program,
    "simulate <folder>",
    "writes an invented fleet whose truth is known: exports, fleet file, truth.json",
    "rotorwear simulate /tmp/fleet --seed 7 && rotorwear report /tmp/fleet/fleet.yaml --out /tmp/months",
  )
    .requiredOption("--seed <number>", "the same seed gives the same fleet", wholeNumber)
    .option(
      "--readings <number>",
      "a fleet with at least so many looks, without planted faults or truth.json",
      wholeNumber,
    )
    .action((folder, options) =>
      perform(options, async (terminal) =>
        (await import("./simulate.ts")).simulateCommand(folder, options, terminal),
      ),
    );
}

const EXIT_CODES = `
Exit codes: 0 done or nothing to do, 1 a bug, 2 wrong usage or fleet file,
3 exports unusable (nothing published), 4 published and --fail-on is true,
5 couldn't publish (the last publication is intact), 6 verify found a difference,
130 and 143 interrupted.`;

function buildProgram(): Command {
  const program = new Command("rotorwear");
  program
    .description(
      "Rotor component life and wear from CSV exports: evidence for inspection intervals. It recommends; the approved maintenance data and the approving authority decide.",
    )
    .version(programVersion())
    .addHelpText("after", EXIT_CODES)
    .showHelpAfterError("(rotorwear --help lists the commands, rotorwear COMMAND --help their options)")
    .exitOverride();
  addFleetCommands(program);
  addTableCommands(program);
  addStartingCommands(program);
  for (const one of program.commands)
    one.exitOverride().showHelpAfterError(`(see rotorwear ${one.name()} --help)`);
  return program;
}

async function main(): Promise<void> {
  endQuietlyOnClosedPipe();
  try {
    await buildProgram().parseAsync();
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    // Commander has said what is wrong. Asking for help or the version is no error.
    process.exitCode = error.exitCode === 0 ? EXIT.done : EXIT.usage;
  }
}

await main();
