/**
 * What can be wrong with what the user gave us: the kinds, their exit codes and the catalogue of stable codes.
 *
 * A bad row is quarantined and the run goes on (RowProblem). An unusable setting, export or output folder stops the
 * run with one of the errors below: message only, no stack. Anything else that is thrown is a bug (exit 1).
 */

export const EXIT = {
  done: 0,
  bug: 1,
  usage: 2,
  exportsUnusable: 3,
  failOn: 4,
  notPublished: 5,
  verifyDiffers: 6,
  interrupted: 130,
  terminated: 143,
} as const;

/** An error that a person can mend: where, what was expected, what was found, what to do. */
export class RotorwearError extends Error {
  readonly code: ProblemCode;
  readonly exitCode: number;
  constructor(code: ProblemCode, exitCode: number, message: string) {
    super(`${message} [${code}]`);
    this.name = new.target.name;
    this.code = code;
    this.exitCode = exitCode;
  }
}

/** Wrong command line or fleet file (exit 2). */
export class UsageError extends RotorwearError {
  constructor(code: ProblemCode, message: string) {
    super(code, EXIT.usage, message);
  }
}

/** An export that can't be used at all (exit 3); nothing is published. */
export class ExportError extends RotorwearError {
  constructor(code: ProblemCode, message: string) {
    super(code, EXIT.exportsUnusable, message);
  }
}

/** The output folder can't be written (exit 5); the last publication is intact. */
export class PublishError extends RotorwearError {
  constructor(code: ProblemCode, message: string) {
    super(code, EXIT.notPublished, message);
  }
}

/** One row (or cell) that was refused or remarked on. */
export interface RowProblem {
  readonly code: ProblemCode;
  /** Path of the export, relative to the fleet file's folder. */
  readonly file: string;
  /** Physical line, from 1. */
  readonly line: number;
  /** Heading of the column as the export writes it; null where the whole row is meant. */
  readonly column: string | null;
  readonly expected: string;
  readonly found: string;
  readonly hint: string | null;
}

/** `removals.csv:412 Hours: expected flight hours, got "1,204.5" (decimal comma? …) [E-NUMBER]` */
export function describeProblem(problem: RowProblem): string {
  const where = `${problem.file}:${problem.line}${problem.column === null ? "" : ` ${problem.column}`}`;
  const hint = problem.hint === null ? "" : ` (${problem.hint})`;
  return `${where}: expected ${problem.expected}, got ${JSON.stringify(problem.found)}${hint} [${problem.code}]`;
}

/**
 * Every stable code, with what it means and what to do. The README's table is made from this.
 * E- codes refuse a row or stop the run; W- codes only remark.
 */
export const PROBLEM_CODES = {
  "E-USAGE": "The command line is not one the command takes; see its --help.",
  "E-FLEET": "The fleet file has a value or key that it can't have; the message names line and key.",
  "E-FLEET-READ": "The fleet file can't be read.",
  "E-AS-OF":
    "The exports hold nothing for the day asked for: a wrong clock or date, or exports that never came.",
  "E-NO-FILE": "A pattern of the fleet file matches no file.",
  "E-FILE-READ": "An export can't be read, or is not text.",
  "E-OUTSIDE": "A pattern or link leads out of the fleet file's folder.",
  "E-CONTROL": "The line holds control characters that no text has.",
  "E-ENCODING": "The line holds bytes that are no text in the file's encoding.",
  "E-HEADING": "No line of the export holds the headings that the fleet file names, or one stands twice.",
  "E-DIALECT": "Delimiter, encoding, decimal mark or date order can be read two ways; set it under format.",
  "E-QUOTE": "A quote opens here and is not closed within a reasonable distance.",
  "E-COLUMNS": "The row has more or fewer cells than the heading.",
  "E-LONG-LINE": "The line is longer than any row can be.",
  "E-MISSING": "A cell that must be filled is empty.",
  "E-NUMBER": "The cell is not a number as the export's format writes them.",
  "E-RANGE": "The number is outside what is physically possible.",
  "E-UNIT": "The unit is not one of mm, um, in, thou (or h).",
  "E-DATE": "The cell is not a date as the export's format writes them.",
  "E-CONFLICT":
    "Two rows with the same key and other values, and no export date to decide between them. Of looks that differ in the reading alone the largest counts.",
  "E-TABLE": "A row of a table of lives, wear or sums is not as the command's --help or the guide says.",
  "W-UNKNOWN-WORD": "A word that the fleet file does not know; its rows are unassigned.",
  "W-HOURS-FALL": "Hours fall without a removal between.",
  "W-HOURS-JUMP": "Hours rise faster than the calendar allows.",
  "W-WEAR-FALLS": "Wear falls by more than the measurement scatter.",
  "W-AFTER-REMOVAL": "A reading after the component was removed.",
  "W-TWO-PLACES": "One component in two places at once.",
  "W-TWO-PART-NUMBERS": "One serial under two part numbers.",
  "W-UNIT-MIX": "A reading about 25.4 or 1000 times its neighbours: another unit?",
  "W-ONE-PLACE-TWICE": "Two components of one part fitted in one place, and the first not removed.",
  "W-REPEATED": "The same row again (identical, or superseded by a later export).",
  "E-LOCKED": "Another run holds the output folder.",
  "E-WRITE": "The output can't be written (disk, permission).",
  "E-ENDED": "The run's process was ended from outside (memory, an administrator).",
  "E-VERIFY": "The recomputed month differs from the published one.",
} as const;

export type ProblemCode = keyof typeof PROBLEM_CODES;
