/** The bench's numbers as Markdown: medians and ratios; what died or isn't done stands there in words. */
import { median } from "simple-statistics";
import type { Died, Measured } from "./measure.ts";

export const PROGRAMS = ["rotorwear", "R", "Python"] as const;
export type ProgramName = (typeof PROGRAMS)[number];

/** What one program did in one row. */
export type Cell =
  | { readonly kind: "runs"; readonly runs: readonly Run[] }
  /** It doesn't do this. */
  | { readonly kind: "not done"; readonly why: string };

/** One run; where it is timed inside its process there is neither CPU time nor memory. */
export type Run =
  | Died
  | (Pick<Measured, "wallS"> & {
      readonly kind: "measured";
      readonly cpuS: number | null;
      readonly peakMB: number | null;
    });

export interface Row {
  readonly name: string;
  readonly cells: Readonly<Record<ProgramName, Cell>>;
}

interface Middle {
  readonly wallS: number;
  readonly cpuS: number | null;
  readonly peakMB: number | null;
  readonly fastestS: number;
  readonly slowestS: number;
  readonly runs: number;
  readonly died: number;
}

/** Medians over the runs that ended well; null where none did or there are none. */
export function middleOf(cell: Cell): Middle | null {
  if (cell.kind === "not done") return null;
  const good = cell.runs.filter((run) => run.kind === "measured");
  if (good.length === 0) return null;
  const walls = good.map(({ wallS }) => wallS);
  const some = (values: readonly (number | null)[]) => {
    const known = values.filter((value) => value !== null);
    return known.length === 0 ? null : median(known);
  };
  return {
    wallS: median(walls),
    cpuS: some(good.map(({ cpuS }) => cpuS)),
    peakMB: some(good.map(({ peakMB }) => peakMB)),
    fastestS: Math.min(...walls),
    slowestS: Math.max(...walls),
    runs: good.length,
    died: cell.runs.length - good.length,
  };
}

/** Three significant digits, in the unit that suits. */
export function secondsText(seconds: number): string {
  if (seconds < 1) return `${threeDigits(seconds * 1000)} ms`;
  return `${threeDigits(seconds)} s`;
}

const threeDigits = (value: number): string =>
  value >= 100 ? value.toFixed(0) : value >= 10 ? value.toFixed(1) : value.toFixed(2);

function cellText(cell: Cell): string {
  if (cell.kind === "not done") return "–";
  const middle = middleOf(cell);
  if (middle === null) return "**died**";
  const parts = [secondsText(middle.wallS)];
  if (middle.slowestS > middle.fastestS)
    parts.push(`(${secondsText(middle.fastestS)} to ${secondsText(middle.slowestS)})`);
  if (middle.cpuS !== null) parts.push(`CPU ${secondsText(middle.cpuS)}`);
  if (middle.peakMB !== null) parts.push(`${middle.peakMB.toFixed(0)} MB`);
  if (middle.died > 0) parts.push(`**${middle.died} of ${middle.died + middle.runs} died**`);
  return parts.join(", ").replace(", (", " (");
}

/** How many times as long and as much memory rotorwear takes. */
function ratioText(own: Cell, peer: Cell): string {
  const [a, b] = [middleOf(own), middleOf(peer)];
  if (a === null || b === null) return "–";
  const time = ratio(a.wallS, b.wallS);
  return a.peakMB === null || b.peakMB === null ? time : `${time}, memory ${ratio(a.peakMB, b.peakMB)}`;
}

const ratio = (a: number, b: number): string => (b > 0 ? `× ${(a / b).toPrecision(2)}` : "–");

/** The main table. */
export function comparisonTable(rows: readonly Row[]): string {
  const lines = rows.map(({ name, cells }) =>
    [
      name,
      ...PROGRAMS.map((program) => cellText(cells[program])),
      ratioText(cells.rotorwear, cells.R),
      ratioText(cells.rotorwear, cells.Python),
    ].join(" | "),
  );
  const heading = ["what", ...PROGRAMS, "rotorwear to R", "rotorwear to Python"];
  return [heading.join(" | "), heading.map(() => "---").join(" | "), ...lines]
    .map((line) => `| ${line} |`)
    .join("\n");
}

/** Ten times the readings: how many times the seconds and the memory. */
export function growthTable(
  steps: readonly { readonly name: string; readonly from: Row; readonly to: Row }[],
): string {
  const cell = (step: (typeof steps)[number], program: ProgramName) => {
    const from = middleOf(step.from.cells[program]);
    const to = middleOf(step.to.cells[program]);
    if (from === null || to === null) return "–";
    const memory =
      from.peakMB !== null && to.peakMB !== null ? `, memory ${ratio(to.peakMB, from.peakMB)}` : "";
    return `${ratio(to.wallS, from.wallS)}${memory}`;
  };
  const lines = steps.map((step) =>
    [step.name, ...PROGRAMS.map((program) => cell(step, program))].join(" | "),
  );
  return [`growth | ${PROGRAMS.join(" | ")}`, "--- | --- | --- | ---", ...lines]
    .map((line) => `| ${line} |`)
    .join("\n");
}

/** Why a cell is empty, and how runs died, as a list; null where there is nothing to say. */
export function remarks(rows: readonly Row[]): string | null {
  const said = rows.flatMap(({ name, cells }) =>
    PROGRAMS.flatMap((program) => {
      const cell = cells[program];
      if (cell.kind === "not done") return [`- ${name}, ${program}: not done, ${cell.why}`];
      const died = cell.runs.filter((run) => run.kind === "died");
      return [...new Set(died.map(({ why }) => `- ${name}, ${program}: **died**, ${why}`))];
    }),
  );
  return said.length === 0 ? null : said.join("\n");
}
