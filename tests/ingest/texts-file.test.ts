import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { columnFromArray, int32, tableFromColumns, tableFromIPC, tableToIPC } from "@uwdata/flechette";
import { beforeAll, describe, expect, it } from "vitest";
import { type FileTexts, readingSettings } from "../../src/ingest/file-texts.ts";
import { exportFolder } from "../../src/ingest/read-files.ts";
import { readOneFile } from "../../src/ingest/read-one-file.ts";
import { packTexts, textsFileName, unpackTexts } from "../../src/ingest/texts-file.ts";
import { RotorwearError } from "../../src/problems.ts";
import { digest } from "./digest.ts";
import { memorySource, smallFleet, wearYaml } from "./support.ts";

const AWKWARD = join(import.meta.dirname, "awkward");
const spec = smallFleet(wearYaml()).exports.wear!;
const settings = readingSettings(spec);
const CONTENT = "Serial,Date,Hours,Wear\nA1,2024-01-02,600,0.1\nH\u00f6he,2024-01-03,,SAT\nA3,2024\n";

let texts: FileTexts;
let packed: Uint8Array;
const read = (content: string): Promise<FileTexts> =>
  readOneFile(memorySource({ "wear.csv": content }), "wear.csv", spec, null);
const key = () => ({ sha256: texts.sha256, settings });

beforeAll(async () => {
  texts = await read(CONTENT);
  packed = packTexts(settings, texts);
});

describe("unpackTexts(packTexts(settings, texts), key)", () => {
  it("gives back every awkward export as it was read", async () => {
    let files = 0;
    for (const name of readdirSync(AWKWARD)) {
      const fleet = smallFleet(readFileSync(join(AWKWARD, name, "exports.yaml"), "utf8"));
      for (const own of Object.values(fleet.exports)) {
        const source = exportFolder(join(AWKWARD, name));
        const paths = await source.list(own.files).catch(() => []);
        for (const path of paths) {
          const whole = await readOneFile(source, path, own, null).catch((error: unknown) => {
            if (error instanceof RotorwearError) return null;
            throw error;
          });
          if (whole === null) continue;
          const kept = { sha256: whole.sha256, settings: readingSettings(own) };
          expect(digest(unpackTexts(packTexts(kept.settings, whole), kept))).toBe(digest(whole));
          files++;
        }
      }
    }
    expect(files).toBeGreaterThan(40);
  });

  it("gives back a file without rows, and one with more texts than fit 16 bits", async () => {
    const many = Array.from({ length: 40_000 }, (_, k) => `S${k},2024-01-01,1,0.1\n`).join("");
    for (const content of ["Serial,Date,Hours,Wear\n", `Serial,Date,Hours,Wear\n${many}`]) {
      const whole = await read(content);
      const kept = { sha256: whole.sha256, settings };
      expect(digest(unpackTexts(packTexts(settings, whole), kept))).toBe(digest(whole));
    }
  });

  it("is made of Arrow streams that any reader of the format opens", () => {
    const rows = tableFromIPC(packed);
    expect(rows.numRows).toBe(2);
    expect(rows.names).toEqual(["line", "0 component", "1 date", "2 hours", "3 wear"]);
    expect([...rows.getChild("line")]).toEqual([2, 3]);
  });

  it("lays its arrays over a buffer that begins anywhere", () => {
    const shifted = new Uint8Array(packed.length + 3);
    shifted.set(packed, 3);
    expect(digest(unpackTexts(shifted.subarray(3), key()))).toBe(digest(texts));
  });
});

describe("unpackTexts(bytes, key) on what it should not trust", () => {
  it("a file cut off anywhere", () => {
    for (let length = 0; length < packed.length; length += 7)
      expect(unpackTexts(packed.subarray(0, length), key())).toBeNull();
  });

  it("a file with one bit turned, wherever it is", () => {
    const spoilt = new Uint8Array(packed);
    for (let at = 0; at < packed.length; at += 3) {
      spoilt[at]! ^= 1 << (at % 8);
      expect(unpackTexts(spoilt, key())).toBeNull();
      spoilt[at] = packed[at]!;
    }
    expect(unpackTexts(spoilt, key())).not.toBeNull();
  });

  it("an Arrow file of another program, and any other bytes", () => {
    const table = tableFromColumns({ line: columnFromArray(Int32Array.of(1), int32()) });
    const foreign = tableToIPC(table, { format: "stream" });
    expect(unpackTexts(foreign!, key())).toBeNull();
    expect(unpackTexts(new Uint8Array(1000), key())).toBeNull();
  });

  it("another file's texts, other settings', another reading's", async () => {
    const other = await read(CONTENT.replace("0.1", "0.2"));
    expect(unpackTexts(packed, { sha256: other.sha256, settings })).toBeNull();
    const semicolons = readingSettings(
      smallFleet(wearYaml('    format: { delimiter: ";" }\n')).exports.wear!,
    );
    expect(unpackTexts(packed, { sha256: texts.sha256, settings: semicolons })).toBeNull();
  });
});

describe("textsFileName(key)", () => {
  it("is another one for every setting that reading depends on, and the same where it doesn't", () => {
    const nameOf = (more: string): string =>
      textsFileName({ sha256: "0", settings: readingSettings(smallFleet(wearYaml(more)).exports.wear!) });
    const names = [
      "    unit: mm\n",
      "    unit: in\n",
      "    unit: { column: Unit }\n",
      '    format: { delimiter: "," }\n',
      "    format: { encoding: utf-8 }\n",
      "    exported: { column: Exported }\n",
    ].map(nameOf);
    expect(new Set(names).size).toBe(names.length);
    expect(nameOf('    unit: mm\n    format: { decimal: ",", dates: dd.MM.yyyy }\n')).toBe(names[0]);
    expect(nameOf('    unit: mm\n    exported: { from: name, pattern: "wear-{yyyy}-{MM}.csv" }\n')).toBe(
      names[0],
    );
    expect(textsFileName({ sha256: "1", settings })).not.toBe(textsFileName({ sha256: "0", settings }));
  });
});
