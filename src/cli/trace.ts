/** `rotorwear trace`: every row of one component, as recorded and as used, and the lives they made. */
import { basename, dirname } from "node:path";
import type { Fleet } from "../fleet/fleet.ts";
import { nearestWord } from "../fleet/nearest-word.ts";
import { readFleet } from "../fleet/read-fleet.ts";
import { readExports } from "../ingest/read-exports.ts";
import { exportFolder } from "../ingest/read-files.ts";
import type { ExportSource } from "../ingest/source.ts";
import { fleetLives } from "../interval/fleet-lives.ts";
import { describeProblem, EXIT, type RowProblem, UsageError } from "../problems.ts";
import type { FileLedger } from "../records/exports.ts";
import type { Life } from "../records/life.ts";
import { fileEffects } from "../run/effects.ts";
import { readFleetFile } from "../run/monthly-run.ts";
import { isoDate } from "../units.ts";
import type { AsOf } from "./arguments.ts";
import { asOfDay } from "./as-of.ts";
import { recordedLines } from "./recorded-lines.ts";
import type { Terminal } from "./terminal.ts";
import { rowsOfComponent, type TracedRow } from "./trace-rows.ts";

interface TraceCommandOptions {
  readonly component: string;
  readonly exports?: string;
  readonly asOf?: AsOf;
  readonly json?: boolean;
}

/** Each recorded line once, with the values it gave (none where it was refused) and what was said about it. */
interface TracedLine {
  readonly file: string;
  readonly line: number;
  readonly recorded: string;
  readonly row: TracedRow | null;
  readonly problems: readonly string[];
}

interface Traced {
  readonly component: string;
  readonly part: string;
  readonly lines: readonly TracedLine[];
  readonly lives: readonly Life[];
  readonly excluded: readonly string[];
}

const address = (at: { readonly file: string; readonly line: number }): string => `${at.file}:${at.line}`;

function grouped<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const group = groups.get(keyOf(item));
    if (group === undefined) groups.set(keyOf(item), [item]);
    else group.push(item);
  }
  return groups;
}

/** Recorded texts of all lines that were used or remarked on, by address. */
async function textsOf(
  fleet: Fleet,
  source: ExportSource,
  files: readonly FileLedger[],
  wanted: readonly { readonly file: string; readonly line: number }[],
): Promise<Map<string, string>> {
  const byFile = grouped(wanted, (at) => at.file);
  const texts = new Map<string, string>();
  for (const { file, kind } of files) {
    const lines = new Set(byFile.get(file)?.map((at) => at.line));
    if (lines.size === 0) continue;
    const encoding = fleet.exports[kind]?.format.encoding ?? null;
    for (const [line, text] of await recordedLines(source, file, encoding, lines)) {
      texts.set(address({ file, line }), text);
    }
  }
  return texts;
}

function tracedLines(
  serial: string,
  rows: readonly TracedRow[],
  problems: readonly RowProblem[],
  texts: ReadonlyMap<string, string>,
): TracedLine[] {
  const remarks = grouped(problems, address);
  const used = new Set(rows.map(address));
  const said = (at: string) => (remarks.get(at) ?? []).map(describeProblem);
  const lines = rows.map((row): TracedLine => {
    const at = address(row);
    return { file: row.file, line: row.line, recorded: texts.get(at) ?? "", row, problems: said(at) };
  });
  // A refused row has no values; it belongs to the component where its text names it.
  for (const [at, [problem]] of remarks) {
    const recorded = texts.get(at) ?? "";
    if (used.has(at) || problem === undefined || !recorded.includes(serial)) continue;
    lines.push({ file: problem.file, line: problem.line, recorded, row: null, problems: said(at) });
  }
  return lines;
}

function lineText(line: TracedLine): string {
  const used =
    line.row === null
      ? "not used"
      : `${line.row.kind} ${line.row.day}: ${Object.entries(line.row.used)
          .map(([name, value]) => `${name} ${value}`)
          .join(", ")}`;
  return [`  ${address(line)}`, `    recorded ${line.recorded}`, `    used     ${used}`]
    .concat(line.problems.map((problem) => `    ${problem}`))
    .join("\n");
}

/** Hours to a tenth; the JSON has them in full. */
const tenths = (hours: number): string => `${Math.round(hours * 10) / 10} h`;

function lifeText(life: Life): string {
  const entry = life.lateEntry ? `under observation from ${tenths(life.entryHours)}` : "from new";
  const upper =
    life.upperHours === Number.POSITIVE_INFINITY ? "no event" : `event by ${tenths(life.upperHours)}`;
  return (
    `  life ${life.life}, piece ${life.piece}: ${life.group.environment}, ${life.group.standard}, aircraft ${life.aircraft || "not recorded"}; ` +
    `${entry}, last good look ${tenths(life.lowerHours)}, ${upper} (${life.end}); ` +
    `${isoDate(life.firstDay)} to ${isoDate(life.lastDay)}, ${life.readingHours.length} readings, ${life.rows.length} rows`
  );
}

function tracedText(traced: Traced): string {
  const lives = traced.lives.map(lifeText);
  return [
    `${traced.component} (${traced.part})`,
    "",
    "Rows",
    ...traced.lines.map(lineText),
    "",
    "Lives",
    ...(lives.length === 0 ? ["  none"] : lives),
    ...traced.excluded.map((reason) => `  left out: ${reason}`),
  ].join("\n");
}

/** Prints every part's component of that serial. Throws UsageError where there is none. */
export async function traceCommand(
  fleetFile: string,
  options: TraceCommandOptions,
  terminal: Terminal,
): Promise<number> {
  const text = Buffer.from(await readFleetFile(fileEffects, fleetFile)).toString("utf8");
  const fleet = readFleet(text, basename(fleetFile));
  const source = exportFolder(options.exports ?? dirname(fleetFile));
  const problems: RowProblem[] = [];
  const exports = await readExports(fleet, source, (problem) => problems.push(problem));
  const components = exports.components.serial.flatMap((serial, at) =>
    serial === options.component ? [at] : [],
  );
  if (components.length === 0) throw unknownSerial(options.component, exports.components.serial);
  const { lives, exclusions } = fleetLives(fleet, exports, asOfDay(options.asOf) ?? exports.latestDay ?? 0);
  const rows = components.map((component) => rowsOfComponent(exports, component));
  const texts = await textsOf(fleet, source, exports.files, [...rows.flat(), ...problems]);
  const traced = components.map(
    (component, at): Traced => ({
      component: options.component,
      part: fleet.parts[exports.components.part[component]!]!.part,
      lines: tracedLines(options.component, rows[at]!, problems, texts),
      lives: lives.filter((life) => life.component === component),
      excluded: exclusions.filter((one) => one.component === component).map((one) => one.reason),
    }),
  );
  if (options.json)
    terminal.result(JSON.stringify({ schema: "rotorwear/trace/1", components: traced }, null, 2));
  else terminal.result(traced.map(tracedText).join("\n\n"));
  return EXIT.done;
}

function unknownSerial(serial: string, serials: readonly string[]): UsageError {
  const near = nearestWord(serial, serials);
  const hint = near === null ? "" : ` (did you mean ${near}?)`;
  return new UsageError("E-USAGE", `no component ${JSON.stringify(serial)} in the exports${hint}`);
}
