/**
 * Simulated rows as the exports of an invented maintenance system: wear, gaps, removals, installed, flying.
 *
 * Wear, gaps, removals and flying come as one file per period, named after the month in which it was exported; the
 * installed roster as one file of the last month.
 */
import { addMonths, type Day, isoMonth } from "../units.ts";
import { type Dialect, type ExportText, writeDate, writeLine, writeNumber } from "./dialect.ts";
import type { Flying } from "./flying.ts";
import { flyingRows } from "./flying.ts";
import type { MaintenanceRecord } from "./maintenance.ts";
import type { GapRow, InstalledRow, LookRow, PartRecord, RemovalCause, RemovalRow } from "./rows.ts";
import type { PartSettings } from "./settings.ts";

export interface ExportPlan {
  readonly folder: string;
  readonly dialects: Readonly<Record<"wear" | "gaps" | "removals" | "installed" | "flying", Dialect>>;
  /** The last this many months are exported month by month; what was before, in files of `olderFileMonths`. */
  readonly monthlyMonths: number;
  readonly olderFileMonths: number;
  /** Numbers of the first aircraft and the first component, so that fleets can stand in one export. */
  readonly firstAircraft: number;
  readonly firstComponent: number;
}

/** Days [from, until) that one file covers, and the month of its name. */
interface Period {
  readonly name: string;
  readonly from: Day;
  readonly until: Day;
}

export const HEADINGS = {
  wear: ["Serial", "Inspected", "Hours", "Wear [mm]", "Tail", "Part no", "Arm", "Base", "Ring", "Remarks"],
  gaps: ["Tail", "Arm", "Date", "Hours", "Gap", "State", "Ring"],
  removals: [
    "Serial",
    "Part no",
    "Removed",
    "Hours",
    "Reason",
    "Found",
    "Shop finding",
    "Tail",
    "Arm",
    "Base",
    "Ring",
  ],
  installed: [
    "Serial",
    "Part no",
    "Installed",
    "Hours at installation",
    "Hours now",
    "Tail",
    "Arm",
    "Base",
    "Ring",
  ],
  flying: ["Month", "Tail", "Base", "Hours"],
} as const;

const CAUSE_WORDS: Readonly<Record<RemovalCause, readonly string[]>> = {
  wear: ["WORN", "LINER WORN"],
  seal: ["SEAL LEAK"],
  "time expired": ["TIME EXPIRED"],
  convenience: ["CONVENIENCE"],
  modification: ["MODIFICATION"],
};

/** Now and then a mechanic remarks on something; the half sign tells windows-1252 from UTF-8. */
const REMARKS = ["play felt at ½ turn", "cleaned first", "gauge no. 2", "measured cold, 4°C"];

/** Registration of an aircraft by its number. */
export const tailOf = (aircraft: number): string => `SH-${101 + aircraft}`;

/** Serials are text: six digits with leading zeros, after the part's prefix. */
export const serialOf = (part: PartSettings, component: number): string =>
  `${part.serialPrefix}${String(1001 + component).padStart(6, "0")}`;

/** The part number that a component carries: the last one introduced before it was made. */
export function partNumberOf(part: PartSettings, madeInMonth: number): string {
  const numbers = part.partNumbers.filter((number) => number.fromMonth <= madeInMonth);
  return numbers.at(-1)?.partNumber ?? part.partNumbers[0]!.partNumber;
}

const ringOf = (standard: string): string => standard.slice(0, 1).toUpperCase();

/** Every export of a simulated fleet, in the order wear, gaps, removals, installed, flying, and by period. */
export function writeExports(
  record: MaintenanceRecord,
  parts: readonly PartSettings[],
  plan: ExportPlan,
): ExportText[] {
  const periods = exportPeriods(record.flying, plan);
  const sheets = parts.map((part, index) => new PartSheet(part, record.parts[index]!, plan));
  const perPeriod = (kind: "wear" | "gaps" | "removals"): ExportText[] => {
    const rows = sheets.flatMap((sheet) => sheet[kind]());
    rows.sort(
      (a, b) => a.day - b.day || a.aircraft - b.aircraft || a.position - b.position || a.order - b.order,
    );
    return periods
      .filter(() => rows.length > 0)
      .map((period) =>
        exportText(
          kind,
          plan,
          period.name,
          rows.filter((row) => row.day >= period.from && row.day < period.until).map((row) => row.cells),
        ),
      );
  };
  const last = periods.at(-1)!.name;
  return [
    ...perPeriod("wear"),
    ...perPeriod("gaps"),
    ...perPeriod("removals"),
    exportText(
      "installed",
      plan,
      last,
      sheets.flatMap((sheet) => sheet.installed()),
    ),
    ...writeFlying(record.flying, periods, plan),
  ];
}

function exportText(
  kind: keyof typeof HEADINGS,
  plan: ExportPlan,
  name: string,
  rows: readonly (readonly string[])[],
): ExportText {
  const dialect = plan.dialects[kind];
  const lines = [HEADINGS[kind], ...rows].map((cells) => writeLine(cells, dialect));
  return { path: `${plan.folder}/${kind}-${name}.csv`, dialect, lines };
}

function exportPeriods(flying: Flying, { monthlyMonths, olderFileMonths }: ExportPlan): Period[] {
  const { months, recordsBeginMonth } = flying.settings;
  const periods: Period[] = [];
  const firstMonthly = Math.max(recordsBeginMonth, months - monthlyMonths);
  for (let month = recordsBeginMonth; month < months; ) {
    const length = month < firstMonthly ? Math.min(olderFileMonths, firstMonthly - month) : 1;
    const until = flying.monthStart[month + length]!;
    periods.push({ name: isoMonth(addMonths(until, -1)), from: flying.monthStart[month]!, until });
    month += length;
  }
  return periods;
}

interface SheetRow {
  readonly day: Day;
  readonly aircraft: number;
  readonly position: number;
  /** Keeps rows of one day and arm in the order in which they were made. */
  readonly order: number;
  readonly cells: readonly string[];
}

/** One part's rows as cells of text. */
class PartSheet {
  readonly #part: PartSettings;
  readonly #record: PartRecord;
  readonly #plan: ExportPlan;

  constructor(part: PartSettings, record: PartRecord, plan: ExportPlan) {
    this.#part = part;
    this.#record = record;
    this.#plan = plan;
  }

  wear(): SheetRow[] {
    return this.#record.looks.map((look, order) => this.#row(look, order, this.#wearCells(look, order)));
  }

  #row(row: LookRow | GapRow | RemovalRow, order: number, cells: readonly string[]): SheetRow {
    return { day: row.day, aircraft: row.aircraft, position: row.position, order, cells };
  }

  #wearCells(look: LookRow, order: number): string[] {
    const dialect = this.#plan.dialects.wear;
    const { recorded } = look;
    const number = recorded.kind === "number" ? writeNumber(recorded.wearMm, 3, dialect) : null;
    return [
      this.#serial(look.component),
      writeDate(look.day, dialect),
      writeNumber(look.hours, 1, dialect),
      number ?? (recorded.kind === "word" && recorded.overLimit ? "US" : "SAT"),
      this.#tail(look.aircraft),
      this.#partNumber(look.component),
      this.#part.positions[look.position]!,
      look.base,
      ringOf(look.standard),
      order % 97 === 13 ? REMARKS[Math.floor(order / 97) % REMARKS.length]! : "",
    ];
  }

  gaps(): SheetRow[] {
    const dialect = this.#plan.dialects.gaps;
    return this.#record.gaps.map((gap, order) =>
      this.#row(gap, order, [
        this.#tail(gap.aircraft),
        this.#part.positions[gap.position]!,
        writeDate(gap.day, dialect),
        writeNumber(gap.hours, 1, dialect),
        writeNumber(gap.gapMm, 2, dialect),
        gap.state === "found" ? "F" : "L",
        ringOf(gap.standard),
      ]),
    );
  }

  removals(): SheetRow[] {
    const dialect = this.#plan.dialects.removals;
    return this.#record.removals.map((removal, order) => {
      const words = CAUSE_WORDS[removal.cause];
      return this.#row(removal, order, [
        this.#serial(removal.component),
        this.#partNumber(removal.component),
        writeDate(removal.day, dialect),
        writeNumber(removal.hours, 1, dialect),
        words[order % words.length]!,
        removal.foundAt === "inspection" ? "INSP" : "SVC",
        removal.finding === null ? "" : removal.finding === "confirmed" ? "CONF" : "NFF",
        this.#tail(removal.aircraft),
        this.#part.positions[removal.position]!,
        removal.base,
        ringOf(removal.standard),
      ]);
    });
  }

  installed(): string[][] {
    const dialect = this.#plan.dialects.installed;
    return this.#record.installed.map((row: InstalledRow) => [
      this.#serial(row.component),
      this.#partNumber(row.component),
      writeDate(row.installedOn, dialect),
      writeNumber(row.hoursAtInstallation, 1, dialect),
      writeNumber(row.hoursNow, 1, dialect),
      this.#tail(row.aircraft),
      this.#part.positions[row.position]!,
      row.base,
      ringOf(row.standard),
    ]);
  }

  #tail(aircraft: number): string {
    return tailOf(this.#plan.firstAircraft + aircraft);
  }

  #serial(component: number): string {
    return serialOf(this.#part, this.#plan.firstComponent + component);
  }

  #partNumber(component: number): string {
    return partNumberOf(this.#part, this.#record.components[component]!.madeInMonth);
  }
}

function writeFlying(flying: Flying, periods: readonly Period[], plan: ExportPlan): ExportText[] {
  const dialect = plan.dialects.flying;
  const rows = flyingRows(flying).map((row) => ({
    day: flying.monthStart[row.month]!,
    cells: [
      isoMonth(flying.monthStart[row.month]!),
      tailOf(plan.firstAircraft + row.aircraft),
      row.base,
      writeNumber(row.hours, 1, dialect),
    ],
  }));
  return periods.map((period) =>
    exportText(
      "flying",
      plan,
      period.name,
      rows.filter((row) => row.day >= period.from && row.day < period.until).map((row) => row.cells),
    ),
  );
}
