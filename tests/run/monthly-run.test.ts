import { createHash } from "node:crypto";
import { mkdir, readdir, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { ExportError, PublishError } from "../../src/problems.ts";
import { LongFile } from "../../src/report/report-file.ts";
import { fileEffects } from "../../src/run/effects.ts";
import { dayFromIso } from "../../src/units.ts";
import { makeMonth } from "../support/make-month.ts";
import { contentsOf, makePlace, runAt, smallStages, writeExport } from "./make-run.ts";

const parse = async (path: string) => JSON.parse(await readFile(path, "utf8"));

describe("monthlyRun(options, effects, stages, say)", () => {
  it("publishes a month with a manifest, keeps its inputs by hash, and points latest and index.html to it", async () => {
    const place = await makePlace();
    expect(await runAt(place)).toMatchObject({ kind: "published", folder: "2026-02" });
    const published = await readdir(join(place.outFolder, "2026-02"));
    expect(published.sort()).toEqual([
      "data",
      "digest.txt",
      "index.html",
      "manifest.json",
      "rejected.csv",
      "run.json",
    ]);
    expect(await readFile(join(place.outFolder, "latest"), "utf8")).toBe("2026-02\n");
    expect(await readFile(join(place.outFolder, "index.html"), "utf8")).toContain(
      "2026-02: 2026-02 | 2 exports",
    );
    const manifest = await parse(join(place.outFolder, "2026-02", "manifest.json"));
    expect(await readdir(join(place.outFolder, "inputs"))).toEqual(
      [
        manifest.fleet_file.sha256,
        ...manifest.inputs.map((input: { sha256: string }) => input.sha256),
      ].sort(),
    );
    expect(await readFile(join(place.outFolder, "2026-02", "rejected.csv"), "utf8")).toContain("E-DATE");
    expect((await readdir(place.outFolder)).sort()).toEqual([
      "2026-02",
      "cache",
      "index.html",
      "inputs",
      "latest",
      "log",
    ]);
  });

  it("does nothing, and says so, when run again with the same inputs", async () => {
    const place = await makePlace();
    await runAt(place);
    const before = await contentsOf(join(place.outFolder, "2026-02"));
    const messages: string[] = [];
    expect(await runAt(place, {}, undefined, messages)).toMatchObject({
      kind: "nothing to do",
      folder: "2026-02",
    });
    expect(messages.join("\n")).toContain("nothing to do: 2026-02 was made from the same inputs");
    expect(await contentsOf(join(place.outFolder, "2026-02"))).toEqual(before);
    expect(await readdir(place.outFolder)).not.toContain("2026-02.2");
  });

  it("makes the next revision with other inputs, another program or another fleet file, and leaves the old ones", async () => {
    const place = await makePlace();
    await runAt(place);
    const before = await contentsOf(join(place.outFolder, "2026-02"));
    await writeExport(place, "2026-02", "Serial,Date,Hours,Wear\nA1,2026-02-10,640,0.12\n");
    expect((await runAt(place)).folder).toBe("2026-02.2");
    const rebuilt = { name: "rotorwear 0.0.1", sha256: "b".repeat(64) };
    expect((await runAt(place, { program: rebuilt })).folder).toBe("2026-02.3");
    expect(await contentsOf(join(place.outFolder, "2026-02"))).toEqual(before);
    expect(await readFile(join(place.outFolder, "latest"), "utf8")).toBe("2026-02.3\n");
  });

  it("makes a month again that was damaged since, and says which file it was", async () => {
    const place = await makePlace();
    await runAt(place);
    await writeFile(join(place.outFolder, "2026-02", "index.html"), "changed");
    const messages: string[] = [];
    expect((await runAt(place, {}, undefined, messages)).folder).toBe("2026-02.2");
    expect(messages.join("\n")).toContain("index.html was changed");
  });

  it("leaves latest at the newest month when an older one is made later", async () => {
    const place = await makePlace();
    await runAt(place);
    expect((await runAt(place, { asOf: dayFromIso("2026-01-31") })).folder).toBe("2026-01");
    expect(await readFile(join(place.outFolder, "latest"), "utf8")).toBe("2026-02\n");
  });

  it("compares with the month before, and passes over one whose run.json was damaged, naming it", async () => {
    const place = await makePlace();
    await runAt(place, { asOf: dayFromIso("2025-11-30") });
    await runAt(place, { asOf: dayFromIso("2025-12-31") });
    await writeFile(join(place.outFolder, "2025-12", "run.json"), "{");
    const messages: string[] = [];
    await runAt(place, {}, undefined, messages);
    expect(messages.join("\n")).toContain("2025-12 can't be compared with: its run.json was changed");
    const manifest = await parse(join(place.outFolder, "2026-02", "manifest.json"));
    expect(manifest.previous.folder).toBe("2025-11");
  });

  it.each([true, false])(
    "publishes nothing when an export is replaced while it is read (inputs kept: %s)",
    async (keepInputs) => {
      const place = await makePlace();
      const stages = {
        ...smallStages,
        runMonth: async (options: Parameters<typeof smallStages.runMonth>[0]) => {
          await writeExport(place, "2026-01", "Serial,Date,Hours,Wear\nA1,2026-01-10,600,0.99\n");
          return smallStages.runMonth(options);
        },
      };
      const run = runAt(place, { keepInputs }, undefined, [], stages);
      await expect(run).rejects.toThrow(ExportError);
      await expect(run).rejects.toThrow(/wear-2026-01.csv was replaced while it was being read/);
      expect((await readdir(place.outFolder)).sort()).toEqual(
        keepInputs ? ["cache", "inputs", "log"] : ["cache", "log"],
      );
    },
  );

  it("publishes nothing when what was written doesn't read back as written (PublishError, exit 5)", async () => {
    const place = await makePlace();
    const lossy = {
      ...fileEffects,
      write: (path: string, content: string | Uint8Array) =>
        fileEffects.write(path, path.endsWith("run.json") ? content.slice(0, -1) : content),
    };
    const run = runAt(place, {}, lossy);
    await expect(run).rejects.toThrow(PublishError);
    await expect(run).rejects.toThrow(/doesn't read back as written \(run\.json was changed\)/);
    expect((await readdir(place.outFolder)).sort()).toEqual(["cache", "inputs", "log"]);
  });

  it("writes one log line a run, the failed ones too, with what was wrong", async () => {
    const place = await makePlace();
    await runAt(place);
    await rm(join(place.root, "exports"), { recursive: true });
    await expect(runAt(place)).rejects.toThrow(ExportError);
    const lines = (await readFile(join(place.outFolder, "log", "runs.jsonl"), "utf8")).trimEnd().split("\n");
    expect(lines.map((line) => JSON.parse(line).outcome)).toEqual(["published", "failed"]);
    expect(JSON.parse(lines[1]!).problem).toContain("[E-NO-FILE]");
    expect(Object.keys(JSON.parse(lines[0]!).stage_seconds)).toEqual([
      "hashing exports",
      "pages",
      "publishing",
    ]);
  });

  it("refuses an output folder whose inputs or log folder is a link (PublishError, exit 5)", async () => {
    const place = await makePlace();
    await mkdir(join(place.root, "elsewhere"));
    await mkdir(place.outFolder);
    await symlink(join(place.root, "elsewhere"), join(place.outFolder, "inputs"));
    await expect(runAt(place)).rejects.toThrow(PublishError);
    expect(await readdir(join(place.root, "elsewhere"))).toEqual([]);
  });

  it("writes no log line through a link that leads elsewhere", async () => {
    for (const [link, target] of [
      ["log", "."],
      ["log/runs.jsonl", "elsewhere.txt"],
    ] as const) {
      const place = await makePlace();
      await mkdir(join(place.root, "elsewhere"));
      await writeFile(join(place.root, "elsewhere", "elsewhere.txt"), "");
      await mkdir(join(place.outFolder, link === "log" ? "" : "log"), { recursive: true });
      await symlink(join(place.root, "elsewhere", target), join(place.outFolder, link));
      const messages: string[] = [];
      await runAt(place, {}, undefined, messages).catch(() => null);
      expect(messages.join("\n")).toMatch(/log line couldn't be written: .* is a link, not a (file|folder)/);
      expect(await contentsOf(join(place.root, "elsewhere"))).toEqual(new Map([["elsewhere.txt", ""]]));
    }
  });

  it("refuses a pattern that takes the output folder's files for exports (UsageError, exit 2)", async () => {
    const place = await makePlace();
    await expect(runAt(place, { outFolder: join(place.root, "exports") })).rejects.toThrow(
      /exports\.wear\.files: expected exports, but a pattern matches exports\/wear-2026-01\.csv in the output folder/,
    );
  });

  it("refuses a report file that would be written outside the month", async () => {
    const place = await makePlace();
    const stages = { ...smallStages, renderMonth: async () => [{ path: "../evil.html", text: "" }] };
    await expect(runAt(place, {}, undefined, [], stages)).rejects.toThrow(/may not be called/);
    expect(await readdir(place.root)).not.toContain("evil.html");
  });

  it("writes a long file piece by piece, and the manifest has its hash and size", async () => {
    const place = await makePlace();
    const pieces = ["hours;µ\n", "1;2\n".repeat(70_000), "the end\n"];
    const stages = {
      ...smallStages,
      renderMonth: async () => [
        new LongFile("long.csv", () => pieces),
        ...(await smallStages.renderMonth(makeMonth())),
      ],
    };
    await runAt(place, {}, undefined, [], stages);
    const path = join(place.outFolder, "2026-02", "long.csv");
    const content = await readFile(path);
    expect(content.toString("utf8")).toBe(pieces.join(""));
    const manifest = await parse(join(place.outFolder, "2026-02", "manifest.json"));
    const listed = manifest.files.find((file: { path: string }) => file.path === "long.csv");
    const sha256 = createHash("sha256").update(content).digest("hex");
    expect(listed).toEqual({ path: "long.csv", sha256, bytes: content.length });
  });

  it("can leave the inputs out", async () => {
    const place = await makePlace();
    await runAt(place, { keepInputs: false });
    expect(await readdir(place.outFolder)).not.toContain("inputs");
  });
});
