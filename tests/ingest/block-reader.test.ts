/** Lines read straight from their bytes, and the same lines by way of text: the same rows, counts and problems. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { BlockReader, type Piece } from "../../src/ingest/block-reader.ts";
import { stringsOf } from "../../src/ingest/byte-texts.ts";
import { decodeWindows1252 } from "../../src/ingest/decode.ts";
import { findHeading } from "../../src/ingest/find-heading.ts";
import { LineSplitter } from "../../src/ingest/lines.ts";
import { smallFleet, wearYaml } from "./support.ts";

const HEADING = "Date;Remark;Serial;Wear;Hours";
const spec = smallFleet(wearYaml()).exports.wear!;
const heading = findHeading("wear.csv", [HEADING], spec);
const setup = { kind: spec.kind, path: "wear.csv", heading };

/** What was read, with texts in the place of codes. */
function shown(piece: Piece, alsoFirst?: Piece): unknown {
  const texts = piece.newTexts.map((packed, k) => [
    ...(alsoFirst === undefined ? [] : stringsOf(alsoFirst.newTexts[k]!)),
    ...stringsOf(packed),
  ]);
  const { line, codes, newTexts: _, ends: __, ...rest } = piece;
  return { ...rest, line: [...line], texts, codes: codes.map((column) => [...column]) };
}

function byText(text: string): unknown {
  const reader = new BlockReader(setup);
  const splitter = new LineSplitter();
  reader.readLines([HEADING]);
  return shown(reader.readLines([...splitter.push(text), ...splitter.end()]));
}

function byBytes(bytes: Uint8Array, encoding: "utf-8" | "windows-1252"): unknown {
  const reader = new BlockReader(setup);
  reader.readLines([HEADING]);
  return shown(reader.read(bytes, encoding));
}

const cell = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom("01.02.2024", "A1", "0,12", "600", "", " A1 ", '"B2"', '"x;y"') },
  {
    weight: 1,
    arbitrary: fc.constantFrom('"', '"a""b"', 'a"b', '"a" ', "Date", " Date", '"Date"', "Total", "="),
  },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      "H\u00f6he",
      "\u00a0",
      "\u00e9A1",
      "a text of over twelve bytes",
      "\u0001",
      "\t",
    ),
  },
);
const row = fc.oneof(
  { weight: 12, arbitrary: fc.array(cell, { minLength: 5, maxLength: 5 }) },
  { weight: 2, arbitrary: fc.array(cell, { minLength: 0, maxLength: 8 }) },
  { weight: 1, arbitrary: fc.constant(["01.02.2024", "", "A1", "0,1", "600", "", ""]) },
  { weight: 1, arbitrary: fc.constant(["", "", "", "", ""]) },
);
const lineEnd = fc.constantFrom("\n", "\r\n", "\r");
const files = fc
  .array(fc.tuple(row, lineEnd), { maxLength: 40 })
  .map((rows) => rows.map(([cells, end]) => cells.join(";") + end).join(""));

describe("BlockReader.read(bytes, encoding)", () => {
  it.each(["utf-8", "windows-1252"] as const)("reads as the lines of text are read, in %s", (encoding) => {
    fc.assert(
      fc.property(files, (text) => {
        const bytes = Buffer.from(text, encoding === "utf-8" ? "utf8" : "latin1");
        const decoded = encoding === "utf-8" ? text : decodeWindows1252(bytes);
        expect(byBytes(bytes, encoding)).toEqual(byText(decoded));
      }),
      { numRuns: 400, seed: 5 },
    );
  });

  it("refuses a line that is no UTF-8 and reads the ones around it", () => {
    const good = Buffer.from("01.02.2024;x;A1;0,1;600\n");
    const bad = Uint8Array.from([...Buffer.from("01.02.2024;x;A"), 0xff, ...Buffer.from(";0,1;600\n")]);
    const reader = new BlockReader(setup, 1);
    const piece = reader.read(Buffer.concat([good, bad, good]), "utf-8");
    expect([...piece.line]).toEqual([2, 4]);
    expect(piece.problems.map(({ code, line }) => [code, line])).toEqual([["E-ENCODING", 3]]);
  });

  it("goes on in a quoted cell from one block to the next", () => {
    const reader = new BlockReader(setup, 1);
    const first = reader.read(Buffer.from('01.02.2024;"a\n'), "utf-8");
    const second = reader.read(Buffer.from('b";A1;0,1;600\n02.02.2024;;A1;0,2;700\n'), "utf-8");
    expect([...first.line]).toEqual([]);
    expect([...second.line]).toEqual([2, 4]);
  });
});
