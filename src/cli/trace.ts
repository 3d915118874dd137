/** `rotorwear trace`: every row of one component, as recorded and as used, and the lives they made. */
import { basename, dirname } from "node:path";
import { countsAirframeHours } from "../fleet/clock.ts";
import type { Fleet } from "../fleet/fleet.ts";
import { nearestWord } from "../fleet/nearest-word.ts";
import { readFleet } from "../fleet/read-fleet.ts";
import { readExports } from "../ingest/read-exports.ts";
import { exportFolder } from "../ingest/read-files.ts";
import type { ExportSource } from "../ingest/source.ts";
import { fleetGaps } from "../interval/fleet-gaps.ts";
import { fleetLives } from "../interval/fleet-lives.ts";
import { EXIT, type RowProblem, UsageError } from "../problems.ts";
import type { FileLedger, ReadExports } from "../records/exports.ts";
import { indexFittings } from "../records/fittings.ts";
import type { GapJoin } from "../records/gap-join.ts";
import { historyReader } from "../records/history.ts";
import type { Life } from "../records/life.ts";
import { fileEffects } from "../run/effects.ts";
import { readFleetFile } from "../run/read-fleet-file.ts";
import { type Day, isoDate } from "../units.ts";
import type { AsOf } from "./arguments.ts";
import { asOfDay } from "./as-of.ts";
import { recordedLines } from "./recorded-lines.ts";
import { refuseTables } from "./refuse-tables.ts";
import type { Terminal } from "./terminal.ts";
import { grouped, lineText, notUsedText, type TracedLine, unusedLines, usedLines } from "./trace-lines.ts";
import { address, type RowJoins, rowsOfComponent } from "./trace-rows.ts";

interface TraceCommandOptions {
  readonly component: string;
  readonly exports?: string;
  readonly asOf?: AsOf;
  readonly json?: boolean;
}

interface Traced {
  readonly component: string;
  readonly part: string;
  readonly lines: readonly TracedLine[];
  readonly lives: readonly Life[];
  readonly excluded: readonly { readonly reason: string; readonly rows: readonly string[] }[];
}

/** Recorded texts by address: of all lines that were used or remarked on, and of those that name the serial. */
async function textsOf(
  fleet: Fleet,
  source: ExportSource,
  files: readonly FileLedger[],
  wanted: readonly { readonly file: string; readonly line: number }[],
  names: RegExp,
): Promise<Map<string, string>> {
  const byFile = grouped(wanted, (at) => at.file);
  const texts = new Map<string, string>();
  for (const { file, kind } of files) {
    const lines = new Set(byFile.get(file)?.map((at) => at.line));
    const encoding =
      kind === "lives" || kind === "sums" ? null : (fleet.exports[kind]?.format.encoding ?? null);
    for (const [line, text] of await recordedLines(source, file, encoding, lines, names))
      texts.set(address({ file, line }), text);
  }
  return texts;
}

/** Finds a serial as a word of its own: 0012 is not in 00123, nor in X-0012. */
function namesSerial(serial: string): RegExp {
  const literal = serial.replace(/[\\^$.*+?()[\]{}|/]/g, "\\$&");
  return new RegExp(`(?<![\\p{L}\\p{N}._-])${literal}(?![\\p{L}\\p{N}._-])`, "u");
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
    ...traced.excluded.map(({ reason, rows }) => `  left out: ${rows.join(", ")}: ${reason}`),
  ].join("\n");
}

/** What the joins make of one component's rows: hours on the life's clock, gaps read where it was fitted. */
function joinsOf(fleet: Fleet, exports: ReadExports, asOf: Day, gaps: GapJoin, component: number): RowJoins {
  const own = new Map(
    gaps.joined.flatMap((gap) => (gap.component === component ? [[gap.row, gap.hours] as const] : [])),
  );
  if (!countsAirframeHours(fleet)) return { lifeHours: null, gaps: own };
  const history = historyReader(exports, asOf, indexFittings(exports, asOf, true), true)(component);
  const hours = (history?.events ?? []).map(
    ({ row, hours }) => [address({ file: exports.files[row.file]!.file, line: row.line }), hours] as const,
  );
  return { lifeHours: new Map(hours), gaps: own };
}

/** Prints every part's component of that serial. Throws UsageError where no row names it. */
export async function traceCommand(
  fleetFile: string,
  options: TraceCommandOptions,
  terminal: Terminal,
): Promise<number> {
  const serial = options.component;
  const text = Buffer.from(await readFleetFile(fileEffects, fleetFile)).toString("utf8");
  const fleet = readFleet(text, basename(fleetFile));
  refuseTables(fleet, fleetFile, "trace");
  const source = exportFolder(options.exports ?? dirname(fleetFile));
  const problems: RowProblem[] = [];
  const exports = await readExports(fleet, source, (problem) => problems.push(problem));
  const asOf = asOfDay(options.asOf) ?? exports.latestDay ?? 0;
  const components = exports.components.serial.flatMap((own, at) => (own === serial ? [at] : []));
  const gaps = fleetGaps(fleet, exports, asOf);
  const rows = components.map((at) => rowsOfComponent(exports, at, joinsOf(fleet, exports, asOf, gaps, at)));
  const names = namesSerial(serial);
  const texts = await textsOf(fleet, source, exports.files, [...rows.flat(), ...problems], names);
  const others = unusedLines(exports, new Set(rows.flat().map(address)), problems, texts, names);
  if (components.length === 0 && others.length === 0) throw unknownSerial(serial, exports.components.serial);
  const { lives, exclusions } = fleetLives(fleet, exports, asOf);
  const traced = components.map(
    (component, at): Traced => ({
      component: serial,
      part: fleet.parts[exports.components.part[component]!]!.part,
      lines: usedLines(rows[at]!, problems, texts),
      lives: lives.filter((life) => life.component === component),
      excluded: exclusions
        .filter((one) => one.component === component)
        .map((one) => ({
          reason: one.reason,
          rows: one.rows.map(({ file, line }) => address({ file: exports.files[file]!.file, line })),
        })),
    }),
  );
  if (options.json)
    terminal.result(
      JSON.stringify({ schema: "rotorwear/trace/1", components: traced, not_used: others }, null, 2),
    );
  else terminal.result([...traced.map(tracedText), notUsedText(serial, others)].filter(Boolean).join("\n\n"));
  return EXIT.done;
}

function unknownSerial(serial: string, serials: readonly string[]): UsageError {
  const near = nearestWord(serial, serials);
  const hint = near === null ? "" : ` (did you mean ${near}?)`;
  return new UsageError("E-USAGE", `no component ${JSON.stringify(serial)} in the exports${hint}`);
}
