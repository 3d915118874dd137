/** Recorded lines of one component: with the values they gave, or why they gave none. */
import { describeProblem, type RowProblem } from "../problems.ts";
import type { ReadExports, RowColumns } from "../records/exports.ts";
import { address, type TracedRow } from "./trace-rows.ts";

/** A recorded line once, with the values it gave and what was said about it. */
export interface TracedLine {
  readonly file: string;
  readonly line: number;
  readonly recorded: string;
  readonly row: TracedRow;
  readonly problems: readonly string[];
}

/** A line that names the component and gave no value. */
export interface UnusedLine {
  readonly file: string;
  readonly line: number;
  readonly recorded: string;
  readonly why: string;
}

/** Items by key, in the order of their first appearance. */
export function grouped<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const group = groups.get(keyOf(item));
    if (group === undefined) groups.set(keyOf(item), [item]);
    else group.push(item);
  }
  return groups;
}

/** The lines in use, each with its values and what was said about it. */
export function usedLines(
  rows: readonly TracedRow[],
  problems: readonly RowProblem[],
  texts: ReadonlyMap<string, string>,
): TracedLine[] {
  const remarks = grouped(problems, address);
  return rows.map((row) => {
    const at = address(row);
    return {
      file: row.file,
      line: row.line,
      recorded: texts.get(at) ?? "",
      row,
      problems: (remarks.get(at) ?? []).map(describeProblem),
    };
  });
}

/** Lines that name the serial and are neither in use for it nor for another component, with the reason. */
export function unusedLines(
  exports: ReadExports,
  used: ReadonlySet<string>,
  problems: readonly RowProblem[],
  texts: ReadonlyMap<string, string>,
  names: RegExp,
): UnusedLine[] {
  const remarks = grouped(problems, address);
  const wanted = new Map([...texts].filter(([at, text]) => !used.has(at) && names.test(text)));
  for (const at of usedByOthers(exports, wanted)) wanted.delete(at);
  const firstWith = new Map<string, string>();
  for (const at of used) firstWith.set(texts.get(at) ?? "", at);
  return [...wanted].map(([at, recorded]) => {
    const colon = at.lastIndexOf(":");
    const said = (remarks.get(at) ?? []).map(describeProblem).join("; ");
    const same = firstWith.get(recorded);
    const why =
      said !== ""
        ? said
        : same !== undefined
          ? `the same row stands at ${same}`
          : "a heading, total or repeat, or a row of a part that the fleet file doesn't know";
    return { file: at.slice(0, colon), line: Number(at.slice(colon + 1)), recorded, why };
  });
}

/** Which of the addresses are rows of some component: they name the serial in passing. */
function* usedByOthers(exports: ReadExports, wanted: ReadonlyMap<string, string>): Generator<string> {
  const tables: readonly (RowColumns | null)[] = [
    exports.wear,
    exports.gaps,
    exports.removals,
    exports.installed,
    exports.flying,
  ];
  for (const table of tables) {
    for (let row = 0; row < (table?.rows ?? 0); row++) {
      const at = address({ file: exports.files[table!.file[row]!]!.file, line: table!.line[row]! });
      if (wanted.has(at)) yield at;
    }
  }
}

/** A line as it is printed. */
export function lineText(line: TracedLine): string {
  const used = Object.entries(line.row.used)
    .map(([name, value]) => `${name} ${value}`)
    .join(", ");
  return [
    `  ${address(line)}`,
    `    recorded ${line.recorded}`,
    `    used     ${line.row.kind} ${line.row.day}: ${used}`,
    ...line.problems.map((problem) => `    ${problem}`),
  ].join("\n");
}

/** Empty where there is none. */
export const notUsedText = (serial: string, lines: readonly UnusedLine[]): string =>
  lines.length === 0
    ? ""
    : [
        `Lines that name ${serial} and were not used`,
        ...lines.flatMap((line) => [
          `  ${address(line)}`,
          `    recorded ${line.recorded}`,
          `    not used: ${line.why}`,
        ]),
      ].join("\n");
