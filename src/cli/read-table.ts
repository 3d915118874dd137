/** The table that `life` and `wear` are given. */
import { readFile } from "node:fs/promises";
import { describeProblem, ExportError, type RowProblem } from "../problems.ts";
import { systemErrorCode } from "../run/effects.ts";
import type { Terminal } from "./terminal.ts";

/** Text of a table. Throws ExportError (exit 3) where it can't be read. */
export async function readTable(path: string): Promise<string> {
  try {
    return await readFile(path, "utf8");
  } catch (error) {
    const code = systemErrorCode(error);
    if (code === null) throw error;
    const hint = code === "ENOENT" ? "there is no such file" : code === "EISDIR" ? "it is a folder" : code;
    throw new ExportError("E-FILE-READ", `${path}: expected a CSV table, but ${hint}`);
  }
}

const SHOWN = 20;

/** Refuses a table that has rows which can't be used: a fit to the rest would not be to what the user gave. */
export function refuseProblems(problems: readonly RowProblem[], path: string, terminal: Terminal): void {
  if (problems.length === 0) return;
  for (const problem of problems.slice(0, SHOWN)) terminal.note("error", describeProblem(problem));
  if (problems.length > SHOWN) terminal.note("error", `…and ${problems.length - SHOWN} more`);
  throw new ExportError("E-TABLE", `${path}: ${problems.length} problem(s); nothing was fitted`);
}
