/** What recorded words may mean: guesses for a first fleet file. A word with no likely meaning is left for a person. */
import type { FieldName } from "./fleet.ts";
import type { SeenFile } from "./starter-columns.ts";

/** A recorded word and its likely meaning, or null. */
export type GuessedWord = readonly [word: string, meaning: string | null];

const MOST_WORDS = 60;

/** Distinct filled cells of a column, in the order of first appearance; at most sixty. */
export function wordsIn(files: readonly SeenFile[], heading: string): string[] {
  const words = new Set<string>();
  for (const file of files) {
    const column = file.heading.indexOf(heading);
    if (column < 0) continue;
    for (const row of file.sampleRows) {
      const cell = row[column]?.trim() ?? "";
      if (cell !== "" && words.size < MOST_WORDS) words.add(cell);
    }
  }
  return [...words];
}

type Meanings = readonly (readonly [RegExp, string])[];

const MEANINGS: Readonly<Partial<Record<FieldName, Meanings>>> = {
  state: [
    [/^f|found/i, "found"],
    [/^l|left|after|adjust/i, "left"],
  ],
  found: [
    [/^i|insp|look|check|shop/i, "inspection"],
    [/^s|serv|flight|line|crew|between/i, "service"],
  ],
  finding: [
    [/nff|no.?fault|not confirmed|unconfirmed|nil/i, "no fault found"],
    [/^c|conf/i, "confirmed"],
  ],
  wear: [
    [/^u|over|reject|exceed|worn|limit.*(reached|passed)/i, "over limit"],
    [/^s|ok|within|below|accept|pass|good/i, "below limit"],
  ],
  cause: [
    [/seal|ring|grease|leak/i, "seal"],
    [/worn|wear/i, "wear"],
    [
      /time|expired|life|convenience|swap|robbe|modif|upgrade|access|overhaul|scheduled|loan/i,
      "not a failure",
    ],
  ],
};

/** Likely meanings of the recorded words of a field that has a fixed set of them. */
export function guessMeanings(field: FieldName, words: readonly string[]): GuessedWord[] {
  const meanings = MEANINGS[field] ?? [];
  return words.map((word) => [word, meanings.find(([pattern]) => pattern.test(word))?.[1] ?? null]);
}

/** Cells of a wear column that are words and not readings. */
export const notNumbers = (words: readonly string[]): string[] =>
  words.filter((word) => !/\d/.test(word) && /^[\p{L}][\p{L} /.-]*$/u.test(word));
