import { describe, expect, it } from "vitest";
import { monthFolderName, newestRevisions, parseMonthFolder } from "../../src/run/month-folders.ts";

describe("parseMonthFolder(folder)", () => {
  it.each(["2026-09", "2026-09.2", "2026-12.17"])(
    "reads %s, and the name made from it is the same",
    (name) => {
      const { month, revision } = parseMonthFolder(name)!;
      expect(monthFolderName(month, revision)).toBe(name);
    },
  );

  it.each([
    "2026-13",
    "2026-00",
    "2026-09.1",
    "2026-09.02",
    "2026-9",
    "x2026-09",
    "2026-09.2x",
    "inputs",
    ".tmp-1",
  ])("takes %s for no month's folder", (name) => expect(parseMonthFolder(name)).toBeNull());
});

describe("newestRevisions(folders)", () => {
  it("orders revisions by number, not by text", () => {
    const folders = ["2026-02.10", "2026-01", "2026-02", "2026-02.9"].map((name) => parseMonthFolder(name)!);
    expect(newestRevisions(folders).map((folder) => folder.folder)).toEqual(["2026-01", "2026-02.10"]);
  });
});
