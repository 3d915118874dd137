import { execFileSync } from "node:child_process";
import { appendFileSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { exportFolder } from "../../src/ingest/read-files.ts";
import { read, smallFleet, wearYaml } from "./support.ts";

const TABLE = "Serial,Date,Hours,Wear\nA1,2026-01-15,100.5,0.11\n";
let root: string;

beforeAll(() => {
  root = mkdtempSync(join(tmpdir(), "rotorwear-files-"));
  mkdirSync(join(root, "fleet/exports/2026 Q1"), { recursive: true });
  mkdirSync(join(root, "fleet/exports/folder.csv"), { recursive: true });
  mkdirSync(join(root, "elsewhere"));
  for (const name of [
    "wear-2026-02.csv",
    "wear-2026-01.csv",
    ".wear-hidden.csv",
    "gaps [1].csv",
    "2026 Q1/wear é.csv",
  ])
    writeFileSync(join(root, "fleet/exports", name), TABLE);
  writeFileSync(join(root, "elsewhere/wear.csv"), TABLE);
  symlinkSync(join(root, "elsewhere/wear.csv"), join(root, "fleet/exports/link-out.csv"));
  symlinkSync(join(root, "elsewhere"), join(root, "fleet/exports/linked"));
  symlinkSync(join(root, "nowhere.csv"), join(root, "fleet/exports/dangling.csv"));
  symlinkSync(join(root, "fleet/exports/wear-2026-01.csv"), join(root, "fleet/exports/link-in.csv"));
});

afterAll(() => rmSync(root, { recursive: true }));

const source = () => exportFolder(join(root, "fleet"));
const readAll = async (path: string): Promise<number> => {
  let bytes = 0;
  for await (const chunk of source().open(path)) bytes += chunk.length;
  return bytes;
};

describe("exportFolder(root).list(patterns)", () => {
  it("finds files by pattern, each once, in code-unit order", async () => {
    expect(await source().list(["exports/wear-*.csv", "exports/wear-2026-0?.csv"])).toEqual([
      "exports/wear-2026-01.csv",
      "exports/wear-2026-02.csv",
    ]);
  });

  it("finds files in folders with spaces and letters beyond ASCII, and by **", async () => {
    expect(await source().list(["exports/*Q1/wear *.csv"])).toEqual(["exports/2026 Q1/wear é.csv"]);
    expect(await source().list(["**/gaps [1].csv"])).toEqual(["exports/gaps [1].csv"]);
  });

  it.each([
    "../elsewhere/wear.csv",
    "exports/../../elsewhere/*.csv",
    "/etc/hostname",
    "C:\\exports\\wear.csv",
  ])("refuses %s, which leads out of the folder", async (pattern) => {
    await expect(source().list([pattern])).rejects.toMatchObject({ code: "E-OUTSIDE", exitCode: 3 });
  });

  it("refuses links that lead out, and takes one that stays within", async () => {
    await expect(source().list(["exports/link-out.csv"])).rejects.toMatchObject({ code: "E-OUTSIDE" });
    await expect(source().list(["exports/linked/wear.csv"])).rejects.toMatchObject({ code: "E-OUTSIDE" });
    expect(await source().list(["exports/link-in.csv"])).toEqual(["exports/link-in.csv"]);
  });

  it("doesn't follow linked folders down ** (two that lead back would take for ever)", async () => {
    for (const name of ["back", "again"])
      symlinkSync(join(root, "fleet/exports"), join(root, "fleet/exports", name));
    const found = await source().list(["**/wear-2026-01.csv"]);
    for (const name of ["back", "again"]) rmSync(join(root, "fleet/exports", name));
    expect(found).toEqual(["exports/wear-2026-01.csv"]);
  });

  it("says so where a pattern matches nothing, a link's target is gone, or the folder isn't there", async () => {
    await expect(source().list(["exports/wear_2026-01.csv"])).rejects.toThrow(
      /did you mean wear-2026-0[12]\.csv\? *.*\[E-NO-FILE\]/,
    );
    await expect(source().list(["exports/dangling.csv"])).rejects.toThrow(
      /a link of that name leads nowhere.*\[E-NO-FILE\]/,
    );
    await expect(exportFolder(join(root, "none")).list(["*.csv"])).rejects.toMatchObject({
      code: "E-NO-FILE",
    });
  });
});

describe("exportFolder(root).open(path)", () => {
  it("reads all bytes", async () => {
    expect(await readAll("exports/wear-2026-01.csv")).toBe(TABLE.length);
  });

  it("says that a folder is no file", async () => {
    await expect(readAll("exports/folder.csv")).rejects.toMatchObject({ code: "E-FILE-READ" });
  });

  it("says that a file is gone", async () => {
    await expect(readAll("exports/gone.csv")).rejects.toThrow(/it is gone.*E-FILE-READ/);
  });

  it("says what the system says where it refuses for another reason", async () => {
    await expect(readAll(`exports/${"n".repeat(300)}.csv`)).rejects.toThrow(/ENAMETOOLONG.*E-FILE-READ/);
    await expect(readAll("exports/wear-2026-01.csv/x.csv")).rejects.toMatchObject({ code: "E-FILE-READ" });
  });

  it("doesn't wait for ever on a named pipe", async () => {
    execFileSync("mkfifo", [join(root, "fleet/exports/pipe.csv")]);
    await expect(readAll("exports/pipe.csv")).rejects.toThrow(/a device or pipe.*E-FILE-READ/);
  });

  it("notices a file that grows while it is read", async () => {
    const path = join(root, "fleet/exports/growing.csv");
    writeFileSync(path, TABLE);
    const reading = async (): Promise<void> => {
      for await (const _ of source().open("exports/growing.csv"))
        appendFileSync(path, "A1,2026-03-15,160.5,0.14\n");
    };
    await expect(reading()).rejects.toThrow(/changed while it was being read.*E-FILE-READ/);
  });

  it("notices a file that is replaced by one of the same size while it is read", async () => {
    const path = join(root, "fleet/exports/replaced.csv");
    writeFileSync(path, TABLE);
    const reading = async (): Promise<void> => {
      for await (const _ of source().open("exports/replaced.csv")) {
        rmSync(path);
        writeFileSync(path, TABLE.replace("0.11", "0.12"));
      }
    };
    await expect(reading()).rejects.toMatchObject({ code: "E-FILE-READ" });
  });
});

describe("readExports over files", () => {
  it("keeps the sha256 of the bytes read (checked with sha256sum of the same text)", async () => {
    const { exports } = await read(
      smallFleet(wearYaml().replace("wear.csv", "exports/wear-2026-01.csv")),
      source(),
    );
    // printf 'Serial,Date,Hours,Wear\nA1,2026-01-15,100.5,0.11\n' | sha256sum
    expect(exports.files[0]!.sha256).toBe("89551e132d98c9cbe90467467a2c14a0a448c64527ea0a0384f975abbc056ea8");
  });
});
