/** Words that the fleet file doesn't know: counted, with the place of the first and what they might have meant. */
import type { ExportKind } from "../fleet/fleet.ts";
import { nearestWord } from "../fleet/nearest-word.ts";
import type { RowProblem } from "../problems.ts";
import type { UnknownWord } from "../records/exports.ts";
import { shortened } from "./row-taker.ts";

interface Counted {
  readonly kind: ExportKind;
  /** Heading of the column. */
  readonly column: string;
  readonly word: string;
  readonly known: readonly string[];
  count: number;
  readonly firstFile: string;
  readonly firstLine: number;
}

export class UnknownWords {
  #counted = new Map<string, Counted>();

  /** Counts one row with an unknown word. @param known  the words that the fleet file has for the column */
  add(word: Omit<Counted, "count">): void {
    const key = `${word.kind}\n${word.column}\n${word.word}`;
    const counted = this.#counted.get(key);
    if (counted === undefined) this.#counted.set(key, { ...word, count: 1 });
    else counted.count++;
  }

  /** All, in order of first appearance. */
  list(): readonly UnknownWord[] {
    return [...this.#counted.values()].map(({ known, ...word }) => ({
      ...word,
      near: nearWord(word.word.slice(0, LONGEST_COMPARED), known),
    }));
  }
}

/** Longer words are no slips of known ones, and comparing them would take long. */
const LONGEST_COMPARED = 60;
/** A beginning shorter than this says nothing. */
const SHORTEST_BEGINNING = 4;

/** The nearest known word, or one that begins like it ("SALT PAN": "Saltpan North"). */
function nearWord(word: string, known: readonly string[]): string | null {
  const plain = (text: string): string => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, "");
  const begins = (a: string, b: string): boolean => b.length >= SHORTEST_BEGINNING && a.startsWith(b);
  const wanted = plain(word);
  const alike = (other: string): boolean => begins(plain(other), wanted) || begins(wanted, plain(other));
  return nearestWord(word, known) ?? known.find(alike) ?? null;
}

/** One remark for a word, at its first row. */
export function wordProblem(word: UnknownWord): RowProblem {
  const near = word.near === null ? "" : `, did you mean ${JSON.stringify(word.near)}?`;
  return {
    code: "W-UNKNOWN-WORD",
    file: word.firstFile,
    line: word.firstLine,
    column: word.column,
    expected: "a word that the fleet file knows",
    found: shortened(word.word),
    hint: `${word.count} row${word.count === 1 ? "" : "s"} so, counted as unassigned${near}`,
  };
}
