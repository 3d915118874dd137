/**
 * A chart before it is drawn: the spec, and everything a reader gets beside the picture. A chart's file turns results
 * into one of these; `figureOf` draws it.
 */
import type { TopLevelSpec } from "vega-lite";
import { drawChart } from "./render.ts";

export interface ChartColumn {
  /** As the page's table heads it, with its unit: "Wear (mm)". */
  readonly head: string;
  /** As the CSV heads it, with its unit: "wear_mm". */
  readonly name: string;
  /** Decimals on the page; left out for text. */
  readonly decimals?: number;
}

/** null: not known, or no such bound. */
export type ChartCell = string | number | null;

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
  readonly rows: readonly (readonly ChartCell[])[];
}

export interface FigureProps extends Omit<Chart, "id" | "spec"> {
  readonly svg: string;
  /** File with the numbers beside the page; left out where there is none. */
  readonly csvName?: string;
}

/** The chart drawn, ready for `Figure`. */
export async function figureOf(chart: Chart, csvName?: string): Promise<FigureProps> {
  const { id, spec, ...rest } = chart;
  const svg = await drawChart(spec, { prefix: id, alt: chart.alt });
  return { ...rest, svg, ...(csvName === undefined ? {} : { csvName }) };
}

/** Text as an id: letters, digits and hyphens, beginning with a letter. */
export const chartId = (...words: readonly string[]): string =>
  words
    .join("-")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^[^a-z]+|-+$/g, "");
