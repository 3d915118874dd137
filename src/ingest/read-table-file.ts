/**
 * A table that a program wrote, CSV with a heading or Arrow, row by row. Nothing is detected in it and nothing mended: a
 * cell that isn't what its column holds ends the run, with file, line and column.
 */
import { createHash } from "node:crypto";
import { Readable } from "node:stream";
import { tableFromIPC } from "@uwdata/flechette";
import { parse } from "csv-parse";
import { ExportError } from "../problems.ts";
import type { ExportSource } from "./source.ts";
import { TableRow } from "./table-row.ts";

/** What became of a file, once all its rows were taken. */
export interface TableFile {
  readonly file: string;
  readonly sha256: string;
  readonly bytes: number;
  readonly rows: number;
  readonly format: "CSV" | "Arrow";
}

const LINE_FEED = 10;
const ARROW = Buffer.from("ARROW1");

/** Takes every row of a file in order; its columns must be there, others are passed over. */
export async function readTableFile(
  source: ExportSource,
  file: string,
  columns: readonly string[],
  take: (row: TableRow) => void,
): Promise<TableFile> {
  const hash = createHash("sha256");
  let bytes = 0;
  async function* hashed() {
    for await (const chunk of source.open(file)) {
      hash.update(chunk);
      bytes += chunk.length;
      yield chunk;
    }
  }
  const chunks = hashed();
  try {
    const first = await chunks.next();
    const start: Uint8Array = first.done ? new Uint8Array() : first.value;
    const isArrow = Buffer.from(start.subarray(0, ARROW.length)).equals(ARROW);
    const rows = isArrow
      ? await arrowRows(file, start, chunks, columns, take)
      : await csvRows(file, start, chunks, columns, take);
    return { file, sha256: hash.digest("hex"), bytes, rows, format: isArrow ? "Arrow" : "CSV" };
  } finally {
    // A file given up half way is closed as well.
    await chunks.return(undefined);
  }
}

const wrong = (file: string, expected: string, found: string): ExportError =>
  new ExportError("E-TABLE", `${file}: expected ${expected}, got ${found}`);

/** Where each column stands. */
function placesOf(file: string, heading: readonly string[], columns: readonly string[]): Map<string, number> {
  const lacking = columns.filter((name) => !heading.includes(name));
  if (lacking.length > 0)
    throw wrong(
      file,
      `the columns ${lacking.join(", ")}`,
      `${heading.join(", ") || "none"} (see data-samples/warehouse)`,
    );
  return new Map(columns.map((name) => [name, heading.indexOf(name)]));
}

async function* chained(start: Uint8Array, rest: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  yield start;
  yield* rest;
}

async function csvRows(
  file: string,
  start: Uint8Array,
  rest: AsyncIterable<Uint8Array>,
  columns: readonly string[],
  take: (row: TableRow) => void,
): Promise<number> {
  let endsLine = false;
  async function* all() {
    for await (const chunk of chained(start, rest)) {
      endsLine = chunk.length === 0 ? endsLine : chunk.at(-1) === LINE_FEED;
      yield chunk;
    }
  }
  const parser = Readable.from(all()).pipe(parse({ bom: true, relax_column_count: true }));
  let places: Map<string, number> | null = null;
  let width = 0;
  let rows = 0;
  try {
    for await (const cells of parser as AsyncIterable<string[]>) {
      if (places === null) {
        places = placesOf(file, cells, columns);
        width = cells.length;
        continue;
      }
      rows++;
      const line = rows + 1;
      if (cells.length !== width) throw wrong(`${file}:${line}`, `${width} cells`, `${cells.length}`);
      take(new TableRow(file, line, places, (place) => cells[place]));
    }
  } catch (error) {
    if (error instanceof Error && "code" in error && String(error.code).startsWith("CSV_"))
      throw wrong(`${file}:${rows + 2}`, "a row of CSV", error.message);
    throw error;
  }
  if (places === null) throw wrong(file, `a heading with ${columns.join(", ")}`, "an empty file");
  // Lines are counted by rows, so a row may have but one. After the last row's line end there is one more, an empty one.
  if (parser.info.lines > rows + (endsLine ? 2 : 1))
    throw wrong(file, "one row a line", "a cell with a line break in it");
  return rows;
}

async function arrowRows(
  file: string,
  start: Uint8Array,
  rest: AsyncIterable<Uint8Array>,
  columns: readonly string[],
  take: (row: TableRow) => void,
): Promise<number> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of chained(start, rest)) chunks.push(chunk);
  const table = arrowTable(file, Buffer.concat(chunks));
  const places = placesOf(file, table.names, columns);
  const children = [...places.values()].map((place) => [place, table.getChildAt(place)] as const);
  const values = new Map(children);
  for (let row = 0; row < table.numRows; row++)
    take(new TableRow(file, row + 1, places, (place) => values.get(place)!.at(row)));
  return table.numRows;
}

function arrowTable(file: string, bytes: Uint8Array) {
  try {
    return tableFromIPC(bytes, { useDate: true });
  } catch (error) {
    throw wrong(file, "an Arrow file", error instanceof Error ? error.message : String(error));
  }
}
