import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { parseQuoted, parseRecords, type RawRecord, RecordFramer } from "../../src/ingest/frame-records.ts";
import { LineSplitter } from "../../src/ingest/lines.ts";
import { cellsIn, dialects, encode, tables, textIn } from "./dialects.ts";
import { physicalLines } from "./mutate.ts";
import { readWear } from "./support.ts";

describe("readExports(fleet, source, onProblem) in any dialect", () => {
  it("reads back a valid table as it was, whatever the dialect and however the bytes are cut", async () => {
    await fc.assert(
      fc.asyncProperty(
        tables,
        dialects,
        fc.integer({ min: 1, max: 5000 }),
        async (rows, dialect, chunkBytes) => {
          const bytes = encode(textIn(rows, dialect), dialect.encoding);
          const { exports, problems } = await readWear(bytes, undefined, chunkBytes);
          const wear = exports.wear!;
          expect(problems.filter(({ code }) => code.startsWith("E-"))).toEqual([]);
          expect(Array.from(wear.component, (c) => exports.components.serial[c])).toEqual(
            rows.map((row) => row.serial),
          );
          expect([...wear.day]).toEqual(rows.map((row) => row.day));
          expect([...wear.hours]).toEqual(rows.map((row) => row.hours));
          expect([...wear.wearMm]).toEqual(rows.map((row) => row.wearMm));
          const [ledger] = exports.files;
          expect(ledger!.lines).toBe(physicalLines(textIn(rows, dialect)));
          expect([ledger!.read, ledger!.accepted]).toEqual([rows.length, rows.length]);
        },
      ),
      { numRuns: 300, seed: 1 },
    );
  });

  it("finds the same cells as a second reader (papaparse 5.7)", () => {
    fc.assert(
      fc.property(tables, dialects, (rows, given) => {
        // papaparse takes one line end for the whole file.
        const dialect = { ...given, lineEnd: given.lineEnd === "mixed" ? ("\n" as const) : given.lineEnd };
        const text = textIn(rows, { ...dialect, preamble: false, totals: false });
        const theirs = Papa.parse<string[]>(text, { delimiter: dialect.delimiter, skipEmptyLines: true });
        expect(theirs.errors).toEqual([]);
        const normal = (cells: string[][]): string[][] =>
          cells.map((row) => row.map((cell) => cell.replace(/\r\n?/g, "\n")));
        expect(normal(ourCells(text, dialect.delimiter))).toEqual(normal(theirs.data));
        expect(normal(theirs.data)).toEqual(cellsIn(rows, dialect));
      }),
      { numRuns: 300, seed: 2 },
    );
  });

  it("splits a record without quotes exactly as csv-parse does", () => {
    const cell = fc.string({
      unit: fc.constantFrom("a", "1", " ", ",", ";", "\t", "|", "'", "\\", "\u00e9", "="),
    });
    fc.assert(
      fc.property(
        fc.array(
          cell.filter((text) => text !== ""),
          { minLength: 1 },
        ),
        fc.constantFrom(",", ";", "\t", "|"),
        (texts, delimiter) => {
          expect(parseRecords(texts, delimiter)).toEqual(parseQuoted(texts, delimiter));
        },
      ),
      { numRuns: 500, seed: 3 },
    );
  });
});

/** Cells by our framing and parsing alone. */
function ourCells(text: string, delimiter: string): string[][] {
  const splitter = new LineSplitter();
  const framer = new RecordFramer(delimiter);
  framer.expectedCells = 5;
  const records: RawRecord[] = [];
  const keep = (record: RawRecord): void => {
    records.push(record);
  };
  [...splitter.push(text), ...splitter.end()].forEach((line, at) => {
    framer.push(line, at + 1, keep);
  });
  framer.end(keep);
  return parseRecords(
    records.map((record) => record.text),
    delimiter,
  );
}
