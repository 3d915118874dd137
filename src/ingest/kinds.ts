/** What each kind of export holds: for every column we keep, where it comes from and how its cells are converted. */
import type { ExportKind, FieldName, FleetWords } from "../fleet/fleet.ts";
import { UNASSIGNED } from "../fleet/fleet.ts";
import { FINDING, FOUND_AT, GAP_STATE, NO_DAY } from "../records/exports.ts";

/** Words of a column and the number each becomes. */
export interface WordCodes {
  readonly codes: ReadonlyMap<string, number>;
  /** What an unknown word becomes. */
  readonly unknown: number;
  /** Names of the numbers, for a text column; null for an enumeration. */
  readonly names: readonly string[] | null;
}

export interface ColumnPlan {
  readonly role: FieldName;
  /** Name of the column in records/exports.ts. */
  readonly out: string;
  readonly type: "day" | "month" | "hours" | "length" | "text" | "words";
  /** An empty cell refuses the row. */
  readonly required: boolean;
  /** For type "words". */
  readonly words?: WordCodes;
  /** For type "words": an empty cell counts as an unknown word. */
  readonly emptyIsUnknown?: boolean;
  /** What the column holds where the cell is empty or the export lacks the column. */
  readonly missing: number;
}

/** Codes of words that stand for names: the names in the order of the fleet file, "unassigned" last. */
function namedWords(words: ReadonlyMap<string, string>): WordCodes {
  const names = [...new Set(words.values()), UNASSIGNED];
  const codes = new Map([...words].map(([word, name]) => [word, names.indexOf(name)]));
  return { codes, unknown: names.length - 1, names };
}

function enumeration(entries: Iterable<readonly [string, number]>, unknown: number): WordCodes {
  return { codes: new Map(entries), unknown, names: null };
}

const text = (role: FieldName, out: string = role): ColumnPlan => ({
  role,
  out,
  type: "text",
  required: false,
  missing: -1,
});

const named = (role: FieldName, words: ReadonlyMap<string, string>, out: string = role): ColumnPlan => ({
  role,
  out,
  type: "words",
  required: false,
  words: namedWords(words),
  missing: -1,
});

const hours = (role: FieldName, out: string, required: boolean): ColumnPlan => ({
  role,
  out,
  type: "hours",
  required,
  missing: Number.NaN,
});

const day = (role: FieldName, out: string): ColumnPlan => ({
  role,
  out,
  type: "day",
  required: true,
  missing: NO_DAY,
});

const length = (role: "wear" | "gap", out: string): ColumnPlan => ({
  role,
  out,
  type: "length",
  required: true,
  missing: Number.NaN,
});

/** Columns of a kind, in the order in which problems of a row are told. */
export function columnPlans(kind: ExportKind, words: FleetWords): readonly ColumnPlan[] {
  const place = [text("aircraft"), text("position")];
  const base = named("environment", words.environments);
  const standard = named("standard", words.standards);
  switch (kind) {
    case "wear":
      return [
        day("date", "day"),
        hours("hours", "hours", true),
        length("wear", "wearMm"),
        ...place,
        base,
        standard,
        text("part", "partNumber"),
      ];
    case "gaps":
      return [
        day("date", "day"),
        hours("hours", "hours", false),
        length("gap", "gapMm"),
        gapState(words),
        ...place,
        standard,
      ];
    case "removals":
      return [
        day("date", "day"),
        hours("hours", "hours", true),
        { ...named("cause", words.causes, "mode"), emptyIsUnknown: true },
        text("cause"),
        foundAt(words),
        finding(words),
        ...place,
        base,
        standard,
      ];
    case "installed":
      return [
        day("installed_on", "installedOn"),
        hours("hours_at_installation", "hoursAtInstallation", true),
        hours("hours_now", "hoursNow", false),
        ...place,
        base,
        standard,
      ];
    case "flying":
      return [
        { ...day("month", "month"), type: "month" },
        { ...text("aircraft"), required: true },
        { ...base, required: true },
        // As recorded: two places of one environment in one month are two records. Only for telling repeats.
        text("environment", "base"),
        hours("hours", "hours", true),
      ];
  }
}

function gapState({ gapStates }: FleetWords): ColumnPlan {
  const words = enumeration(
    [...gapStates].map(([word, state]) => [word, GAP_STATE[state]]),
    GAP_STATE.unknown,
  );
  return { role: "state", out: "state", type: "words", required: false, words, missing: GAP_STATE.unknown };
}

function foundAt(fleetWords: FleetWords): ColumnPlan {
  const words = enumeration(
    [...fleetWords.foundAt].map(([word, at]) => [word, FOUND_AT[at]]),
    FOUND_AT.unknown,
  );
  return { role: "found", out: "found", type: "words", required: false, words, missing: FOUND_AT.unknown };
}

function finding(fleetWords: FleetWords): ColumnPlan {
  const words = enumeration(
    [...fleetWords.findings].map(([word, found]) => [
      word,
      found === "confirmed" ? FINDING.confirmed : FINDING.noFaultFound,
    ]),
    FINDING.none,
  );
  return { role: "finding", out: "finding", type: "words", required: false, words, missing: FINDING.none };
}

/** Columns whose equality makes two rows records of the same thing. */
export const KEY_COLUMNS: Readonly<Record<ExportKind, readonly string[]>> = {
  wear: ["component", "day", "aircraft", "position"],
  gaps: ["component", "aircraft", "position", "day", "state"],
  removals: ["component", "day"],
  installed: ["component", "installedOn"],
  flying: ["month", "aircraft", "base"],
};

/** Two of the key columns: whose row it is, and when. A row that is its owner's latest so far repeats none before it. */
export const ORDER_COLUMNS: Readonly<Record<ExportKind, { readonly whose: string; readonly day: string }>> = {
  wear: { whose: "component", day: "day" },
  gaps: { whose: "aircraft", day: "day" },
  removals: { whose: "component", day: "day" },
  installed: { whose: "component", day: "installedOn" },
  flying: { whose: "aircraft", day: "month" },
};
