/** Words that the fleet file doesn't know: counted, with the place of the first and what they might have meant. */
import type { ExportKind } from "../fleet/fleet.ts";
import { nearestWord } from "../fleet/nearest-word.ts";
import type { RowProblem } from "../problems.ts";
import type { UnknownWord } from "../records/exports.ts";
import { shortened } from "./row-words.ts";

interface Counted {
  readonly kind: ExportKind;
  /** Heading of the column. */
  readonly column: string;
  /** Key of the fleet file under which the word would be known. */
  readonly section: string;
  readonly word: string;
  readonly known: readonly string[];
  count: number;
  readonly firstFile: string;
  readonly firstLine: number;
}

/**
 * Words listed of one column. A column with more unknown words is the wrong column, or free text, and the rest would be
 * no help: they are counted together.
 */
const MOST_LISTED = 200;
const OTHER_WORDS = "(further words)";

/** Keys of the fleet file by what a column is. */
const SECTION_OF: Readonly<Record<string, string>> = {
  environment: "environments",
  standard: "standards",
  state: "gap_states",
  found: "found_at",
  finding: "findings",
  wear: "wear_words",
  cause: "causes",
  part: "part_numbers",
};

/** Where the fleet file lists the words of a column. */
export const sectionOf = (role: string): string => SECTION_OF[role] ?? role;

/** Counts unknown words while the rows are converted. */
export class UnknownWords {
  #counted = new Map<string, Counted>();
  #listed = new Map<string, number>();

  /** Counts one row with an unknown word. `known`: the words that the fleet file has for the column. */
  add(word: Omit<Counted, "count">): void {
    const column = `${word.kind}\0${word.column}`;
    const counted = this.#counted.get(`${column}\0${word.word}`);
    if (counted !== undefined) {
      counted.count++;
      return;
    }
    const listed = this.#listed.get(column) ?? 0;
    this.#listed.set(column, listed + 1);
    if (listed < MOST_LISTED) this.#counted.set(`${column}\0${word.word}`, { ...word, count: 1 });
    else this.#countOther(column, word);
  }

  #countOther(column: string, word: Omit<Counted, "count">): void {
    const others = this.#counted.get(`${column}\0\0`);
    if (others !== undefined) others.count++;
    else this.#counted.set(`${column}\0\0`, { ...word, word: OTHER_WORDS, known: [], count: 1 });
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
    expected: `a word under ${word.section} in the fleet file`,
    found: shortened(word.word),
    hint: `${word.count} row${word.count === 1 ? "" : "s"} so, counted as unassigned${near}`,
  };
}
