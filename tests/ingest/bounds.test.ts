import { describe, expect, it } from "vitest";
import { LONGEST_LINE } from "../../src/ingest/lines.ts";
import type { ExportSource } from "../../src/ingest/source.ts";
import { isoDate } from "../../src/units.ts";
import { memorySource, read, readWear, smallFleet, wearYaml } from "./support.ts";

const HEADING = "Serial,Date,Hours,Wear\n";
const GOOD = "A1,2026-01-15,100.5,0.11\n";

/** A file that is made as it is read, so that the test itself holds no large buffer. */
function generated(chunks: () => Generator<string>): ExportSource {
  return {
    list: async () => ["wear.csv"],
    async *open() {
      for (const chunk of chunks()) yield Buffer.from(chunk);
    },
  };
}

describe("readExports on files beyond bounds", () => {
  it("refuses a line of 100 MB, holds little of it, and reads the rows around it", async () => {
    const piece = "x".repeat(1 << 20);
    const source = generated(function* () {
      yield HEADING + GOOD;
      for (let i = 0; i < 100; i++) yield piece;
      yield `\nB2,2026-01-15,100.5,0.12\n`;
    });
    const before = process.memoryUsage().heapUsed;
    const { exports, problems } = await read(smallFleet(wearYaml()), source);
    expect(process.memoryUsage().heapUsed - before).toBeLessThan(60e6);
    expect(problems).toMatchObject([{ code: "E-LONG-LINE", line: 3 }]);
    expect(problems[0]!.found.length).toBeLessThan(400);
    expect([...exports.wear!.line]).toEqual([2, 4]);
    expect(exports.files[0]).toMatchObject({ lines: 4, read: 3, accepted: 2, rejected: 1 });
  });

  it("keeps at most 48 bytes an accepted reading", async () => {
    const { exports } = await readWear(
      HEADING + Array.from({ length: 1000 }, (_, i) => `A${i},2026-01-15,${i}.5,0.11\n`).join(""),
    );
    const columns = Object.values(exports.wear!).map((column) =>
      typeof column === "object" && "codes" in column ? column.codes : column,
    );
    const buffers = new Set(columns.flatMap((column) => (ArrayBuffer.isView(column) ? [column.buffer] : [])));
    const bytes = [...buffers].reduce((sum, buffer) => sum + buffer.byteLength, 0);
    expect(exports.wear!.rows).toBe(1000);
    expect(bytes).toBeGreaterThan(30 * 1000);
    expect(bytes).toBeLessThanOrEqual(48 * 1000);
  });

  it("reads a line just within the bound and refuses one just beyond", async () => {
    const heading = "Serial,Date,Hours,Wear,Remark\n";
    const row = (length: number): string => `A1,2026-01-15,100.5,0.11,${"r".repeat(length - 25)}\n`;
    const within = await readWear(heading + row(LONGEST_LINE));
    expect(within.exports.files[0]).toMatchObject({ accepted: 1, rejected: 0 });
    const beyond = await readWear(heading + row(LONGEST_LINE + 1));
    expect(beyond.problems).toMatchObject([{ code: "E-LONG-LINE", line: 2 }]);
  });

  it("doesn't take a file of one endless line for an export", async () => {
    const source = generated(function* () {
      for (let i = 0; i < 20; i++) yield "y".repeat(1 << 20);
    });
    await expect(read(smallFleet(wearYaml()), source)).rejects.toMatchObject({
      code: "E-HEADING",
      exitCode: 3,
    });
  });

  it("settles the encoding at the first byte beyond ASCII, also after the first megabyte", async () => {
    const plain =
      HEADING + Array.from({ length: 60_000 }, (_, i) => `S${i},2026-01-15,100.5,0.11\n`).join("");
    const latin = Buffer.concat([Buffer.from(plain), Buffer.from("\xc91,2026-01-15,100.5,0.11\n", "latin1")]);
    const { exports } = await readWear(latin);
    expect(exports.components.serial.at(-1)).toBe("\u00c91");
    expect(exports.files[0]!.format[0]).toMatch(/windows-1252.*after a plain ASCII beginning/);
    const utf8 = await readWear(Buffer.from(`${plain}\u00c91,2026-01-15,100.5,0.11\n`));
    expect(utf8.exports.components.serial.at(-1)).toBe("\u00c91");
  });

  it("recovers from a quote on every line within reasonable time", async () => {
    const lines = Array.from({ length: 20_000 }, (_, i) => `"S${i},2026-01-15,100.5,0.11\n`).join("");
    const { exports } = await readWear(HEADING + lines + GOOD);
    expect(exports.files[0]).toMatchObject({ read: 20_001, accepted: 1, rejected: 20_000 });
  });

  it("settles a hundred thousand repeats of one row within reasonable time", async () => {
    const { exports } = await readWear(HEADING + GOOD.repeat(100_000));
    expect(exports.files[0]).toMatchObject({ read: 100_000, accepted: 1, identical: 99_999 });
  });

  it("checks rows within reasonable time where all seem to be of one component", async () => {
    const day = (i: number): string => isoDate(10_000 + (i % 10_000));
    const rows = (count: number, row: (i: number) => string): string =>
      Array.from({ length: count }, (_, i) => row(i)).join("");
    const yaml = `${wearYaml()}  removals: { files: removals.csv, clock: since new, columns: { component: Serial, date: Date, hours: Hours, cause: Cause } }\n  installed: { files: installed.csv, clock: since new, columns: { component: Serial, installed_on: Date, hours_at_installation: Hours, aircraft: Tail, position: Arm } }\n`;
    const source = memorySource({
      "wear.csv": HEADING + rows(10_000, (i) => `bearing,${day(i)},${i},0.1\n`),
      "removals.csv": `Serial,Date,Hours,Cause\n${rows(10_000, (i) => `bearing,${day(i)},${i},WORN\n`)}`,
      "installed.csv": `Serial,Date,Hours,Tail,Arm\n${rows(10_000, (i) => `bearing,${day(i)},${i},T${i % 7},A\n`)}`,
    });
    const { exports } = await read(smallFleet(yaml), source);
    expect(exports.wear!.rows).toBe(10_000);
  }, 20_000);

  it("keeps at most 48 bytes a reading in the columns", async () => {
    const rows = 50_000;
    const columns = "Serial,Date,Hours,Wear,Tail,Arm,Base,Ring,Part\n";
    const text =
      columns +
      Array.from(
        { length: rows },
        (_, i) =>
          `S${i % 5000},2026-0${1 + (i % 9)}-${10 + (Math.floor(i / 9) % 19)},${i / 10},0.11,T${i % 60},A,Saltpan,S,GB-1\n`,
      ).join("");
    const more = "    unit: mm\n";
    const yaml = wearYaml(more).replace(
      "wear: Wear }",
      "wear: Wear, aircraft: Tail, position: Arm, environment: Base, standard: Ring, part: Part }",
    );
    const { exports } = await read(
      smallFleet(yaml),
      generated(function* () {
        yield text;
      }),
    );
    const wear = exports.wear!;
    const bytes = Object.values(wear)
      .flatMap((column): unknown[] =>
        typeof column === "object" && column !== null && "codes" in column ? [column.codes] : [column],
      )
      .filter((column) => ArrayBuffer.isView(column))
      .reduce((sum, column) => sum + column.buffer.byteLength, 0);
    expect(wear.rows).toBeGreaterThan(rows / 2);
    expect(bytes / wear.rows).toBeLessThanOrEqual(48);
  });
});
