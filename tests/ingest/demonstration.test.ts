/** Each fault that was planted in the demonstration, against what its list says must come of it. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { readFleet } from "../../src/fleet/read-fleet.ts";
import { exportFolder } from "../../src/ingest/read-files.ts";
import { describeProblem } from "../../src/problems.ts";
import { type Reading, read } from "./support.ts";

interface Fault {
  readonly number: number;
  readonly file: string;
  readonly line: number;
  readonly rows: number;
  readonly planted: string;
  readonly code: string | null;
}

const FOLDER = join(import.meta.dirname, "../../data-samples/demonstration");
const faults = JSON.parse(readFileSync(join(FOLDER, "faults.json"), "utf8")) as readonly Fault[];
let reading: Reading;

beforeAll(async () => {
  const fleet = readFleet(readFileSync(join(FOLDER, "fleet.yaml"), "utf8"), "fleet.yaml");
  reading = await read(fleet, exportFolder(FOLDER));
});

/** Problems at a place, or about it. */
function at(fault: Fault): string[] {
  const place = `${fault.file}:${fault.line}`;
  return reading.problems
    .filter(({ file, line, found }) => `${file}:${line}` === place || found.includes(place))
    .map(({ code }) => code);
}

describe("readExports on the demonstration", () => {
  it.each(faults.map((fault) => [`${fault.number}: ${fault.planted}`, fault] as const))(
    "fault %s",
    (_, fault) => {
      if (fault.code === null) expect(at(fault)).toEqual([]);
      else expect(at(fault)).toContain(fault.code);
    },
  );

  it("refuses the planted rows and no others", () => {
    const refused = reading.problems.filter(({ code }) => code.startsWith("E-"));
    const planted = faults.filter(({ code }) => code?.startsWith("E-"));
    const places = (list: readonly { file: string; line: number }[]): string[] =>
      list.map(({ file, line }) => `${file}:${line}`).sort();
    expect(places(refused), refused.map(describeProblem).join("\n")).toEqual(places(planted));
    expect(reading.exports.files.reduce((sum, { rejected }) => sum + rejected, 0)).toBe(planted.length);
  });

  it("counts the rows of each fault that repeats or is unassigned", () => {
    const { files } = reading.exports;
    const sum = (code: string): number =>
      faults.filter((fault) => fault.code === code).reduce((total, { rows }) => total + rows, 0);
    expect(files.reduce((total, file) => total + file.identical + file.superseded, 0)).toBe(
      sum("W-REPEATED"),
    );
    expect(files.reduce((total, file) => total + file.unassigned, 0)).toBe(sum("W-UNKNOWN-WORD"));
  });

  it("balances every file to the physical line", () => {
    for (const file of reading.exports.files) {
      const bytes = readFileSync(join(FOLDER, file.file), "latin1");
      expect(file.lines).toBe(bytes.split("\n").length - 1 + (bytes.endsWith("\n") ? 0 : 1));
      expect(file.headingLines + file.blankLines + file.totalsLines + file.rowLines).toBe(file.lines);
    }
  });

  it("meets preamble, totals, repeated heading, blank lines and trailing delimiters where they were planted", () => {
    const ledger = (number: number) => {
      const { file } = faults.find((fault) => fault.number === number)!;
      return reading.exports.files.find((read) => read.file === file)!;
    };
    expect(ledger(28)).toMatchObject({ headingLines: 3, blankLines: 1 });
    expect(ledger(29)).toMatchObject({ totalsLines: 1 });
    expect(ledger(30)).toMatchObject({ headingLines: 2 });
    expect(ledger(31)).toMatchObject({ blankLines: 3 });
    expect(ledger(32).format.join("\n")).toMatch(/trailing delimiters: \d+ rows/);
    expect(ledger(33).format.join("\n")).toMatch(/CRLF, \d+ LF \(mixed\)/);
    expect(ledger(34).format[0]).toBe("encoding utf-8: byte-order mark");
  });
});
