/** What recorded words may mean: guesses for a first fleet file. A word with no likely meaning is left for a person. */
import type { FieldName } from "./fleet.ts";
import type { SeenFile } from "./starter-columns.ts";

/** A recorded word and its likely meaning, or null. */
export type GuessedWord = readonly [word: string, meaning: string | null];

const MOST_WORDS = 60;

/** Distinct filled cells of a column that `keep` takes, in the order of first appearance; at most sixty. */
export function wordsIn(
  files: readonly SeenFile[],
  heading: string,
  keep: (cell: string) => boolean = () => true,
): string[] {
  const words = new Set<string>();
  for (const file of files) {
    const column = file.heading.indexOf(heading);
    if (column < 0) continue;
    for (const row of file.sampleRows) {
      const cell = row[column]?.trim() ?? "";
      if (cell !== "" && words.size < MOST_WORDS && keep(cell)) words.add(cell);
    }
  }
  return [...words];
}

type Meanings = readonly (readonly [RegExp, string])[];

// Short codes only as whole words: "see card" is no "S" for serviceable, and a bearing is no ring.
const MEANINGS: Readonly<Partial<Record<FieldName, Meanings>>> = {
  state: [
    [/^f$|^af$|found/i, "found"],
    [/^l$|^al$|left|after|adjust/i, "left"],
  ],
  found: [
    [/^i$|insp|\blook|check|shop/i, "inspection"],
    [/^s$|^svc$|serv|flight|\bline\b|crew|between/i, "service"],
  ],
  finding: [
    [/^nff$|no.?fault|not confirmed|unconfirmed|^nil/i, "no fault found"],
    [/^c$|^conf/i, "confirmed"],
  ],
  wear: [
    [/^u$|^u\/?s$|unsat|unserv|\bover\b|reject|exceed|worn/i, "over limit"],
    [/^s$|^sat|^serv|^ok$|within|below|accept|^pass|^good/i, "below limit"],
  ],
  cause: [
    [/\bseal|grease|leak/i, "seal"],
    [/worn|\bwear/i, "wear"],
    [
      /\btime\b|expired|convenience|swap|robbe|modif|upgrade|\baccess|overhaul|\bscheduled|\bloan/i,
      "not a failure",
    ],
  ],
};

/** Likely meanings of the recorded words of a field that has a fixed set of them. */
export function guessMeanings(field: FieldName, words: readonly string[]): GuessedWord[] {
  const meanings = MEANINGS[field] ?? [];
  return words.map((word) => [word, meanings.find(([pattern]) => pattern.test(word))?.[1] ?? null]);
}

/** Whether a cell of a wear column is a word and not a reading. */
export const isWord = (cell: string): boolean => !/\d/.test(cell) && /^[\p{L}][\p{L} /.-]*$/u.test(cell);
