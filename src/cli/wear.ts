/** `rotorwear wear`: wear rates of a table that the user has. */
import { EXIT } from "../problems.ts";
import { parseWearTable } from "../wear/parse-wear-table.ts";
import { wearResult } from "../wear/wear-result.ts";
import { wearText } from "../wear/wear-text.ts";
import { readTable, refuseProblems } from "./read-table.ts";
import type { Terminal } from "./terminal.ts";

interface WearCommandOptions {
  readonly by?: string;
  readonly confidence: number;
  readonly limit?: number;
  readonly json?: boolean;
}

/** Fits and prints; bad rows are an error, since a fit without them is not of the table given. */
export async function wearCommand(
  path: string,
  options: WearCommandOptions,
  terminal: Terminal,
): Promise<number> {
  const parsed = parseWearTable(await readTable(path), path, options.by);
  refuseProblems(parsed.problems, path, terminal);
  if (parsed.kind === "unusable") throw new Error("a table can't be unusable without a problem");
  const { confidence, limit } = options;
  const result = wearResult(parsed.groups, {
    confidence,
    ...(limit === undefined ? {} : { limitMm: limit }),
  });
  terminal.result(options.json ? JSON.stringify(result, null, 2) : wearText(result));
  return EXIT.done;
}
