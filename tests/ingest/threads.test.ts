/** One reader or several, in this thread or in others: the same texts, lines, problems and numbers of texts. */
import { fileURLToPath, pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import type { BlockPool } from "../../src/ingest/block-pool.ts";
import { readOneFile } from "../../src/ingest/read-one-file.ts";
import { blockThreads } from "../../src/run/block-threads.ts";
import { digest } from "./digest.ts";
import { handPool } from "./hand-pool.ts";
import { memorySource, smallFleet, wearYaml } from "./support.ts";

const spec = smallFleet(wearYaml()).exports.wear!;
const ROWS = 80_000;

/** Over three megabytes, so three blocks and more; texts that are new in each. @param odd  lines in the place of some rows */
function bigExport(odd: Readonly<Record<number, string>> = {}): string {
  const lines = ["printed at the base", "Serial,Date,Hours,Wear,Remark"];
  for (let row = 0; row < ROWS; row++) {
    const [serial, hours] = [`S${(row * 7919) % 9001}`, ((row * 31) % 50_021) / 10];
    lines.push(
      odd[row] ?? `${serial},2024-0${1 + (row % 9)}-11,${hours},0.${row % 97},checked and found well`,
    );
  }
  return `${lines.join("\r\n")}\r\n`;
}

const texts = (content: string | Uint8Array, pool: BlockPool | null) =>
  readOneFile(memorySource({ "wear.csv": content }), "wear.csv", spec, pool);

const ODD = {
  10: "",
  20000: "Total,,1,2,",
  40000: "S1,2024-01-01,1",
  60000: "Serial,Date,Hours,Wear,Remark",
  70000: "S1,2024-01-01,1,0.1,\u0001",
};

describe("readOneFile(source, path, spec, pool)", () => {
  it("gives the same with any pool, rows that are none among them", async () => {
    const content = bigExport(ODD);
    const alone = await texts(content, null);
    expect(alone.rows).toBe(ROWS - 5);
    expect(alone.counts.lines).toBe(ROWS + 2);
    expect(alone.problems.map(({ line }) => line)).toEqual([40_003, 70_003]);
    for (const readers of [1, 3]) {
      const pool = handPool(readers);
      expect(digest(await texts(content, pool))).toBe(digest(alone));
      expect(pool.blocks).toBeGreaterThan(2);
    }
  });

  it("reads in order from the first quote on", async () => {
    const content = bigExport({ 50000: 'S1,2024-01-01,1,0.1,"two', 50001: 'lines"' });
    const alone = await texts(content, null);
    const pool = handPool(2);
    expect(digest(await texts(content, pool))).toBe(digest(alone));
    expect(alone.rows).toBe(ROWS - 1);
    expect(pool.blocks).toBe(1);
  });

  it("knows windows-1252 from a byte late in the file", async () => {
    const content = Buffer.from(bigExport({ 70000: "S\u00e9,2024-01-01,1,0.1," }), "latin1");
    const alone = await texts(content, null);
    expect(alone.format[0]).toBe(
      "encoding windows-1252: the bytes beyond ASCII are not valid UTF-8 (after a plain ASCII beginning)",
    );
    expect(digest(await texts(content, handPool(2)))).toBe(digest(alone));
  });

  it("says of a second heading in another order on which line it stands, whoever met it", async () => {
    const content = bigExport({ 70000: "Date,Serial,Hours,Wear,Remark" });
    await expect(texts(content, handPool(2))).rejects.toThrow(/wear\.csv:70003: the headings stand again/);
  });

  it("gives the same in threads of their own, from the built program", async () => {
    const content = bigExport(ODD);
    const dist = fileURLToPath(new URL("../../dist/", import.meta.url));
    const pool = blockThreads(2, pathToFileURL(`${dist}ingest/read-block-worker.js`));
    try {
      const [first, again] = await Promise.all([texts(content, pool), texts(content, pool)]);
      expect(digest(first)).toBe(digest(await texts(content, null)));
      expect(digest(again)).toBe(digest(first));
    } finally {
      await pool.close();
    }
  });
});
