/** `rotorwear check`: what the exports hold, as the monthly run would read them; publishes nothing. */
import { basename, dirname } from "node:path";
import { readFleet } from "../fleet/read-fleet.ts";
import { readExports } from "../ingest/read-exports.ts";
import { exportFolder } from "../ingest/read-files.ts";
import { describeProblem, EXIT, PROBLEM_CODES, type ProblemCode, type RowProblem } from "../problems.ts";
import type { FileLedger, ReadExports } from "../records/exports.ts";
import { fileEffects } from "../run/effects.ts";
import { readFleetFile } from "../run/monthly-run.ts";
import { isoDate } from "../units.ts";
import type { Terminal } from "./terminal.ts";

interface CheckCommandOptions {
  readonly exports?: string;
  readonly json?: boolean;
}

interface ProblemGroup {
  readonly code: ProblemCode;
  readonly file: string;
  count: number;
  readonly examples: RowProblem[];
}

const EXAMPLES = 3;

/** Gathers problems by code and file, keeping the first few of each. */
function problemGroups(): {
  add(problem: RowProblem): void;
  readonly groups: ReadonlyMap<string, ProblemGroup>;
} {
  const groups = new Map<string, ProblemGroup>();
  return {
    groups,
    add(problem) {
      const key = `${problem.code}\n${problem.file}`;
      const group = groups.get(key) ?? { code: problem.code, file: problem.file, count: 0, examples: [] };
      groups.set(key, group);
      group.count++;
      if (group.examples.length < EXAMPLES) group.examples.push(problem);
    },
  };
}

function ledgerText(ledger: FileLedger): string {
  const { lines, headingLines, blankLines, totalsLines, rowLines, read, accepted, rejected } = ledger;
  const exported = ledger.exported === null ? "" : `, exported ${isoDate(ledger.exported)}`;
  return [
    `${ledger.file} (${ledger.kind}${exported})`,
    `  read ${read} = accepted ${accepted} + rejected ${rejected} + repeated ${ledger.identical + ledger.superseded} (${ledger.identical} identical, ${ledger.superseded} superseded)`,
    `  lines ${lines} = headings ${headingLines} + blank ${blankLines} + totals ${totalsLines} + rows ${rowLines}; unassigned rows ${ledger.unassigned}`,
    ...ledger.format.map((line) => `  ${line}`),
  ].join("\n");
}

function groupText(group: ProblemGroup): string {
  const more = group.count - group.examples.length;
  return [
    `${group.code} ${group.file}: ${group.count} (${PROBLEM_CODES[group.code]})`,
    ...group.examples.map((problem) => `  ${describeProblem(problem)}`),
    ...(more > 0 ? [`  …and ${more} more`] : []),
  ].join("\n");
}

function wordsText(read: ReadExports): string[] {
  return read.unknownWords.map((word) => {
    const near = word.near === null ? "" : `; near ${JSON.stringify(word.near)}`;
    return `${word.kind} ${word.column}: ${JSON.stringify(word.word)} ${word.count} times, first at ${word.firstFile}:${word.firstLine}${near}; add it under ${word.section}`;
  });
}

function checkText(read: ReadExports, groups: readonly ProblemGroup[]): string {
  const sections = [read.files.map(ledgerText).join("\n\n")];
  if (groups.length > 0) sections.push(`Problems\n\n${groups.map(groupText).join("\n")}`);
  if (read.unknownWords.length > 0)
    sections.push(`Words the fleet file doesn't know\n\n${wordsText(read).join("\n")}`);
  const latest = read.latestDay === null ? "no dates" : `latest date ${isoDate(read.latestDay)}`;
  sections.push(`${read.components.count} components; ${latest}. Nothing was published.`);
  return sections.join("\n\n");
}

/** Reads everything and says what was found. Throws as the monthly run would (exit 2, 3). */
export async function checkCommand(
  fleetFile: string,
  options: CheckCommandOptions,
  terminal: Terminal,
): Promise<number> {
  const text = Buffer.from(await readFleetFile(fileEffects, fleetFile)).toString("utf8");
  const fleet = readFleet(text, basename(fleetFile));
  const problems = problemGroups();
  const source = exportFolder(options.exports ?? dirname(fleetFile));
  const read = await readExports(fleet, source, problems.add);
  const groups = [...problems.groups.values()];
  if (options.json) {
    const latest = read.latestDay === null ? null : isoDate(read.latestDay);
    const result = {
      schema: "rotorwear/check/1",
      files: read.files,
      problems: groups.map(({ code, file, count, examples }) => ({ code, file, count, examples })),
      unknown_words: read.unknownWords,
      components: read.components.count,
      latest_date: latest,
    };
    terminal.result(JSON.stringify(result, null, 2));
  } else terminal.result(checkText(read, groups));
  return EXIT.done;
}
