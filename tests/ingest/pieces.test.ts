import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decide, type Votes } from "../../src/ingest/decide-dialect.ts";
import { decodeWindows1252, StreamDecoder } from "../../src/ingest/decode.ts";
import { exportedFromName } from "../../src/ingest/exported-date.ts";
import { cellsOf, type RawRecord, RecordFramer } from "../../src/ingest/frame-records.ts";
import { LineSplitter } from "../../src/ingest/lines.ts";
import { matchesName, patternSegments } from "../../src/ingest/match-path.ts";
import { rejectedCsvLine } from "../../src/ingest/rejected-csv.ts";
import { csvCell } from "../../src/records/csv-cell.ts";
import { isoDate } from "../../src/units.ts";

describe("LineSplitter", () => {
  it("gives the same lines however the text is cut, and those that a regular expression gives", () => {
    const texts = fc.string({ unit: fc.constantFrom("a", "b", "\r", "\n", "\r\n") });
    fc.assert(
      fc.property(texts, fc.array(fc.integer({ min: 1, max: 7 }), { minLength: 1 }), (text, cuts) => {
        const splitter = new LineSplitter();
        const lines: string[] = [];
        for (let at = 0, k = 0; at < text.length; k++) {
          const length = cuts[k % cuts.length]!;
          lines.push(...splitter.push(text.slice(at, at + length)));
          at += length;
        }
        lines.push(...splitter.end());
        const expected = text.split(/\r\n|\n|\r/);
        if (expected.at(-1) === "") expected.pop();
        expect(lines).toEqual(expected);
        const { crlf, lf, cr } = splitter.ends;
        expect(crlf + lf + cr).toBe(text.match(/\r\n|\n|\r/g)?.length ?? 0);
      }),
    );
  });
});

describe("RecordFramer", () => {
  const frame = (lines: readonly string[], expectedCells: number): RawRecord[] => {
    const framer = new RecordFramer(",");
    framer.expectedCells = expectedCells;
    const records: RawRecord[] = [];
    lines.forEach((line, at) => {
      framer.push(line, at + 1, (record) => records.push(record));
    });
    framer.end((record) => records.push(record));
    return records;
  };

  it("keeps a quoted cell of several lines together, with the line on which it begins", () => {
    expect(frame(["a,b", 'c,"d', "", 'e ""f"" g"', "h,i"], 2)).toEqual([
      { text: "a,b", line: 1, lines: 1, unclosed: false },
      { text: 'c,"d\n\ne ""f"" g"', line: 2, lines: 3, unclosed: false },
      { text: "h,i", line: 5, lines: 1, unclosed: false },
    ]);
  });

  it("gives up a quote at the next line that is a row of its own, and names its own line", () => {
    const records = frame(['a,"b', "c,d", "e,f"], 2);
    expect(records.map(({ line, unclosed }) => [line, unclosed])).toEqual([
      [1, true],
      [2, false],
      [3, false],
    ]);
  });

  it("gives up a quote after fifty lines, and looks at these lines again", () => {
    const lines = ['a,"b', ...Array.from({ length: 60 }, (_, i) => `line ${i}`), "c,d"];
    const records = frame(lines, 2);
    expect(records).toHaveLength(lines.length);
    expect(records.filter(({ unclosed }) => unclosed).map(({ line }) => line)).toEqual([1]);
  });

  it("accounts for every line once, whatever the quotes", () => {
    const line = fc.string({ unit: fc.constantFrom("a", ",", '"') });
    fc.assert(
      fc.property(fc.array(line), fc.integer({ min: 0, max: 4 }), (lines, cells) => {
        const records = frame(lines, cells);
        let next = 1;
        for (const record of records) {
          expect(record.line).toBe(next);
          next += record.lines;
        }
        expect(next).toBe(lines.length + 1);
        expect(records.map(({ text }) => text).join("\n")).toBe(lines.join("\n"));
      }),
    );
  });
});

describe("cellsOf(text, delimiter)", () => {
  it("has cells for any text, quotes left open or not", () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom("a", ",", '"', " ") }), (text) => {
        expect(cellsOf(text, ",").length).toBeGreaterThan(0);
      }),
    );
    expect(cellsOf('5" x,"abc', ",")).toEqual(['5" x', '"abc']);
  });
});

describe("decodeWindows1252(bytes)", () => {
  it("reads what the encoding's index has (WHATWG Encoding, index-windows-1252, from memory)", () => {
    expect(decodeWindows1252(Uint8Array.of(0x80, 0x82, 0x8a, 0x92, 0x96, 0x99, 0x9f))).toBe(
      "\u20ac\u201a\u0160\u2019\u2013\u2122\u0178",
    );
  });

  it("reads ASCII and Latin letters as themselves", () => {
    expect(decodeWindows1252(Uint8Array.of(0x41, 0x7e, 0xa0, 0xe9, 0xff))).toBe("A~\u00a0\u00e9\u00ff");
  });
});

describe("StreamDecoder", () => {
  const ascii = { encoding: "ascii", markBytes: 0, evidence: "" } as const;
  const decoded = (bytes: Uint8Array, cut: number): string => {
    const decoder = new StreamDecoder(ascii);
    return decoder.decode(bytes.subarray(0, cut)) + decoder.decode(bytes.subarray(cut)) + decoder.end();
  };

  it.each(["A\u00c91;B", "A\u00c9", "\u00c9\u00c3\u00a91", "ends with \u00c3"])(
    "reads %j the same wherever the bytes are cut",
    (text) => {
      for (const encoding of ["utf8", "latin1"] as const) {
        const bytes = Buffer.from(text, encoding);
        // In ISO 8859-1 the third text's last two letters are bytes of one UTF-8 letter, but its first is none.
        for (let cut = 0; cut <= bytes.length; cut++) expect(decoded(bytes, cut)).toBe(text);
      }
    },
  );
});

describe("decide(question, paths, votes, sample)", () => {
  const question = {
    what: "mark",
    setting: "decimal",
    first: "P",
    second: "C",
    describe: (x: string) => x,
  } as const;
  const ask = (...votes: Votes[]) =>
    decide<string>(
      question,
      votes.map((_, i) => `f${i}.csv`),
      votes,
      () => "1,234",
    ).map(({ value }) => value);
  const v = (first: number, second: number, ambiguous = 0): Votes => ({ first, second, ambiguous });

  it("goes by each file's own majority of at least four to one", () => {
    expect(ask(v(4, 1), v(0, 3), v(9, 0, 50))).toEqual(["P", "C", "P"]);
    expect(() => ask(v(3, 1))).toThrow(/f0\.csv.*set decimal under format.*E-DIALECT/);
  });

  it("lets a silent file follow the others only where these agree", () => {
    expect(ask(v(0, 0, 3), v(0, 5))).toEqual(["C", "C"]);
    expect(() => ask(v(0, 0, 3), v(0, 5), v(5, 0))).toThrow(/can be read both ways/);
    expect(() => ask(v(0, 0, 3))).toThrow(/"1,234"/);
  });

  it("needs nothing where nothing depends on it", () => {
    expect(ask(v(0, 0))).toEqual(["P"]);
  });
});

describe("exportedFromName(path, pattern)", () => {
  it.each([
    ["exports/wear-2026-03.csv", "wear-{yyyy}-{MM}.csv", "2026-03-31", "2026-04-30"],
    ["wear_20260305_0700.csv", "wear_{yyyy}{MM}{dd}_{HH}{mm}.csv", "2026-03-05", "2026-03-06"],
    ["exports/2026/wear (2026-03).csv", "{yyyy}/wear ({yyyy}-{MM}).csv", "2026-03-31", "2026-04-30"],
    ["wear-2026-03-final.csv", "wear-{yyyy}-{MM}*.csv", "2026-03-31", "2026-04-30"],
  ])("%s by %s is of %s", (path, pattern, exported, latest) => {
    const { day, latestRow } = exportedFromName(path, pattern);
    expect([isoDate(day), isoDate(latestRow)]).toEqual([exported, latest]);
  });

  it.each([
    ["wear-march.csv", "wear-{yyyy}-{MM}.csv"],
    ["wear-2026-13.csv", "wear-{yyyy}-{MM}.csv"],
    ["2025/wear-2026-03.csv", "{yyyy}/wear-{yyyy}-{MM}.csv"],
    ["wear-2026.csv", "wear-{yyyy}.csv"],
  ])("says that %s doesn't fit %s", (path, pattern) => {
    expect(() => exportedFromName(path, pattern)).toThrow(/E-FLEET/);
  });
});

describe("matchesName(pattern, name) and patternSegments(pattern)", () => {
  it.each([
    ["wear-*.csv", "wear-2026-03.csv", true],
    ["wear-*.csv", "wear-2026-03.csv.bak", false],
    ["wear-?.csv", "wear-1.csv", true],
    ["wear-?.csv", "wear-12.csv", false],
    ["wear.csv", "wearxcsv", false],
    ["*", ".hidden", false],
    [".*", ".hidden", true],
    ["a+(b).csv", "a+(b).csv", true],
    ["?.csv", "\u{1f681}.csv", true],
  ])("%s and %s: %s", (pattern, name, matches) => {
    expect(matchesName(pattern, name)).toBe(matches);
  });

  it("has no way out of the root", () => {
    expect(patternSegments("exports//./wear.csv")).toEqual(["exports", "wear.csv"]);
    for (const out of ["/etc/x", "..", "a/../../b", "C:\\x", "a\\..\\b"])
      expect(patternSegments(out)).toBeNull();
  });
});

describe("csvCell(value) and rejectedCsvLine(problem)", () => {
  it.each(["=1+1", "+1+cmd", "-2+3", "@SUM(A1)", "\t=1", "\r=1", " =1", "\uff1d1"])(
    "neutralises %j",
    (text) => {
      expect(csvCell(text).replace(/^"/, "").startsWith("'")).toBe(true);
    },
  );

  it("leaves numbers and plain text alone, and quotes what needs it", () => {
    expect(["-5", "+0.3", "plain", "", 'a"b', "a,b", "a;b", "a\nb"].map(csvCell)).toEqual([
      "-5",
      "+0.3",
      "plain",
      "",
      '"a""b"',
      '"a,b"',
      '"a;b"',
      '"a\nb"',
    ]);
    expect([csvCell(-0.5), csvCell(null)]).toEqual(["-0.5", ""]);
  });

  it("writes a problem as one line", () => {
    const problem = {
      code: "E-NUMBER",
      file: "wear.csv",
      line: 3,
      column: "Hours",
      expected: "flight hours",
      found: "=1",
      hint: null,
    } as const;
    expect(rejectedCsvLine(problem)).toBe("wear.csv,3,Hours,flight hours,'=1,,E-NUMBER\n");
  });
});
