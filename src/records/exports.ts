/**
 * What was read from the exports, as columns: the only thing that lives, wear and trend see of a file.
 *
 * Typed arrays and dictionary-coded text, about 42 bytes a reading; row text is never kept. In number columns NaN means
 * "not recorded"; in code columns -1 does. Every row keeps its file and physical line.
 */
import type { Day } from "../units.ts";

/** Text as codes into a list of distinct words; code -1 where the cell was empty. */
export interface TextColumn {
  /** 16 bits where the words are few enough, which they nearly always are. */
  readonly codes: Int16Array | Int32Array;
  readonly words: readonly string[];
}

/** The word of a row; null where the cell was empty. */
export function wordAt(column: TextColumn, row: number): string | null {
  const code = column.codes[row]!;
  return code < 0 ? null : column.words[code]!;
}

/** A day that is not known or could not be read. */
export const NO_DAY = -(2 ** 31);

/** What every export row has. */
export interface RowColumns {
  readonly rows: number;
  /** Number of the file in ReadExports.files. */
  readonly file: Uint16Array;
  /** Physical line, from 1. */
  readonly line: Int32Array;
  /** 1 where a word of the row is unknown to the fleet file (the row is "unassigned"), else 0. */
  readonly unassigned: Uint8Array;
}

/** A component's number is its row here; identity is (part, serial). */
export interface ComponentTable {
  readonly count: number;
  /** Number of the part in the fleet file. */
  readonly part: Int32Array;
  readonly serial: readonly string[];
}

/** unknown: a word that the fleet file doesn't know stands in place of the number (the row is unassigned). */
export const LOOK = { number: 0, belowLimit: 1, overLimit: 2, unknown: 3 } as const;

export interface WearRows extends RowColumns {
  readonly component: Int32Array;
  readonly day: Int32Array;
  /** Hours on the export's clock as recorded; converted to the life's clock by records/clock.ts. */
  readonly hours: Float64Array;
  /** NaN where the look has words only. */
  readonly wearMm: Float64Array;
  /** One of LOOK. */
  readonly look: Uint8Array;
  readonly aircraft: TextColumn;
  readonly position: TextColumn;
  /** Words are the fleet file's environments, or "unassigned". */
  readonly environment: TextColumn;
  readonly standard: TextColumn;
  readonly partNumber: TextColumn;
}

/** unknown: the export doesn't say, or says it with an unknown word. */
export const GAP_STATE = { found: 0, left: 1, unknown: 2 } as const;

export interface GapRows extends RowColumns {
  /** -1 where the export gives aircraft and position instead. */
  readonly component: Int32Array;
  readonly day: Int32Array;
  readonly hours: Float64Array;
  readonly gapMm: Float64Array;
  readonly state: Uint8Array;
  readonly aircraft: TextColumn;
  readonly position: TextColumn;
  readonly standard: TextColumn;
}

export const FOUND_AT = { unknown: 0, inspection: 1, service: 2 } as const;
export const FINDING = { none: 0, confirmed: 1, noFaultFound: 2 } as const;

export interface RemovalRows extends RowColumns {
  readonly component: Int32Array;
  readonly day: Int32Array;
  readonly hours: Float64Array;
  /** Failure mode of the fleet file's `causes` ("wear", "seal", "not a failure", …), or "unassigned". */
  readonly mode: TextColumn;
  /** The cause as recorded. */
  readonly cause: TextColumn;
  readonly found: Uint8Array;
  readonly finding: Uint8Array;
  /** Day on which the row was first exported; NO_DAY where unknown. */
  readonly exported: Int32Array;
  readonly aircraft: TextColumn;
  readonly position: TextColumn;
  readonly environment: TextColumn;
  readonly standard: TextColumn;
}

export interface InstalledRows extends RowColumns {
  readonly component: Int32Array;
  readonly installedOn: Int32Array;
  readonly hoursAtInstallation: Float64Array;
  /** NaN where the export has none. */
  readonly hoursNow: Float64Array;
  readonly aircraft: TextColumn;
  readonly position: TextColumn;
  readonly environment: TextColumn;
  readonly standard: TextColumn;
}

export interface FlyingRows extends RowColumns {
  /** First day of the month. */
  readonly month: Int32Array;
  readonly aircraft: TextColumn;
  readonly environment: TextColumn;
  readonly hours: Float64Array;
}

/** The ledger of one file: every physical line and every row accounted for. */
export interface FileLedger {
  readonly file: string;
  readonly kind: "wear" | "gaps" | "removals" | "installed" | "flying" | "lives" | "sums";
  readonly sha256: string;
  readonly bytes: number;
  /** Day of export, null where unknown. */
  readonly exported: Day | null;
  readonly lines: number;
  readonly headingLines: number;
  readonly blankLines: number;
  readonly totalsLines: number;
  readonly rowLines: number;
  readonly read: number;
  readonly accepted: number;
  readonly rejected: number;
  readonly identical: number;
  readonly superseded: number;
  readonly unassigned: number;
  /** What was detected or set about the format, with its evidence, one line each. */
  readonly format: readonly string[];
}

/** An unknown word, with how often it stands there and what it might have meant. */
export interface UnknownWord {
  readonly kind: ExportKindName;
  readonly column: string;
  /** Key of the fleet file under which the word would be known. */
  readonly section: string;
  readonly word: string;
  readonly count: number;
  readonly near: string | null;
  readonly firstFile: string;
  readonly firstLine: number;
}
type ExportKindName = FileLedger["kind"];

/** A line of which no cell could be read. */
export interface UnreadLine {
  /** Number of its file in ReadExports.files. */
  readonly file: number;
  readonly line: number;
  /** Day on which its file was exported; NO_DAY where unknown. */
  readonly exported: Day;
}

/**
 * Rows that no life is made from, with what could be read of them: component -1 where it is not known, NO_DAY, NaN, and
 * words unknown or missing. What must not be overlooked (a failure, a reading over a limit) is looked for here too.
 */
export interface RowsSetAside {
  /** Refused looks at components of known parts. */
  readonly wear: WearRows | null;
  /** Removals that were refused, or whose part number the fleet file doesn't know. */
  readonly removals: RemovalRows | null;
  /** Lines of removals exports. */
  readonly unreadRemovals: readonly UnreadLine[];
}

export interface ReadExports {
  /** In reading order; a row's `file` is an index here. */
  readonly files: readonly FileLedger[];
  readonly components: ComponentTable;
  readonly wear: WearRows | null;
  readonly gaps: GapRows | null;
  readonly removals: RemovalRows | null;
  readonly installed: InstalledRows | null;
  readonly flying: FlyingRows | null;
  readonly setAside: RowsSetAside;
  readonly unknownWords: readonly UnknownWord[];
  /** Latest date in any row, null where there is no row. */
  readonly latestDay: Day | null;
}
