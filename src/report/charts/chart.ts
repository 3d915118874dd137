/**
 * A chart before it is drawn: the spec, and everything a reader gets beside the picture. A chart's file turns results
 * into one of these; figures.ts makes figures of them.
 */
import { createHash } from "node:crypto";
import type { TopLevelSpec } from "vega-lite";
import type { Rounding } from "../../math/rounded.ts";

export interface ChartColumn {
  /** As the page's table heads it, with its unit: "Wear (mm)". */
  readonly head: string;
  /** As the CSV heads it, with its unit: "wear_mm". */
  readonly name: string;
  /** Decimals on the page; left out for text. */
  readonly decimals?: number;
  /** Of a bound: outward. __Default value:__ to the nearest */
  readonly rounding?: Rounding;
}

/** null: not known, or no such bound. */
export type ChartCell = string | number | null;

/** Rows of a chart's numbers. A large group has tens of thousands, so they may be made only as they are asked for. */
export interface ChartRows extends Iterable<readonly ChartCell[]> {
  readonly length: number;
}

export interface Chart {
  /** Unique on its page; also the stem of its CSV. */
  readonly id: string;
  /** The finding, in a sentence's words. */
  readonly title: string;
  readonly spec: TopLevelSpec;
  /** What the picture shows, for whoever can't see it. */
  readonly alt: string;
  /** How to read it, what was counted, what was left out. */
  readonly caption: string;
  readonly columns: readonly ChartColumn[];
  readonly rows: ChartRows;
}

export interface FigureProps extends Omit<Chart, "id" | "spec"> {
  readonly svg: string;
  /** File with the numbers beside the page; left out where there is none. */
  readonly csvName?: string;
}

const LONGEST_WORD = 40;

/** A word as part of an id; a hash tells apart words that would look alike, or are too long for a file's name. */
function idWord(word: string): string {
  const plain = word
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "");
  if (plain.length <= LONGEST_WORD && /^[a-z0-9 -]*$/.test(word)) return plain;
  return `${plain.slice(0, LONGEST_WORD)}-${createHash("sha256").update(word, "utf8").digest("hex").slice(0, 8)}`;
}

/** Text as an id, unique for other words: letters, digits and hyphens, beginning with the letter that `kind` does. */
export const chartId = (kind: string, ...words: readonly string[]): string =>
  [kind, ...words.map(idWord)].join("-");
