import { execFileSync } from "node:child_process";
import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { findBrowser } from "../../src/run/find-browser.ts";
import { printOfficerPages } from "../../src/run/print-pdf.ts";

const root = mkdtempSync(join(tmpdir(), "rotorwear-pdf-"));
const installed = await findBrowser(process.env);
let out = "";
let count = 0;

beforeEach(() => {
  count += 1;
  out = join(root, `out ${count}`);
  mkdirSync(join(out, "2026-03"), { recursive: true });
  for (const name of ["interval-a.html", "interval-b.html", "index.html", "run.json"]) {
    writeFileSync(join(out, "2026-03", name), `<!doctype html><title>${name}</title><p>${name}`);
  }
});

afterAll(() => rmSync(root, { recursive: true }));

/** A program that is asked like a browser. */
function fakeBrowser(body: string): string {
  const path = join(root, `browser-${count}`);
  writeFileSync(path, `#!${process.execPath}\nconst asked = process.argv.slice(2);\n${body}\n`);
  chmodSync(path, 0o755);
  return path;
}

const WRITES = `
const value = (name) => asked.find((one) => one.startsWith(name + "=")).slice(name.length + 1);
require("node:fs").writeFileSync(value("--print-to-pdf"), [value("--user-data-dir"), asked.at(-1)].join("\\n"));`;

const pdfs = () => readdirSync(join(out, "pdf", "2026-03")).sort();

describe("printOfficerPages(browser, outFolder, monthName)", () => {
  it("prints the officer's pages alone, beside the month, with a profile that is gone afterwards", async () => {
    const printed = await printOfficerPages(fakeBrowser(WRITES), out, "2026-03");
    expect(printed).toEqual({
      kind: "printed",
      folder: join(out, "pdf", "2026-03"),
      files: ["interval-a.pdf", "interval-b.pdf"],
    });
    expect(pdfs()).toEqual(["interval-a.pdf", "interval-b.pdf"]);
    expect(readdirSync(join(out, "2026-03"))).toHaveLength(4);
    const [profile, page] = readFileSync(join(out, "pdf", "2026-03", "interval-a.pdf"), "utf8").split("\n");
    expect(page).toMatch(/^file:\/\/.*\/out%20\d+\/2026-03\/interval-a\.html$/);
    expect(() => readdirSync(profile!)).toThrow(/ENOENT/);
  });

  it("says which page failed and why, and leaves no half of it", async () => {
    const failing = fakeBrowser('console.error("cannot open display"); process.exit(3);');
    expect(await printOfficerPages(failing, out, "2026-03")).toEqual({
      kind: "failed",
      page: "interval-a.html",
      why: "it ended with code 3: cannot open display",
    });
    expect(pdfs()).toEqual([]);
  });

  it("does not take a browser that wrote nothing for one that printed", async () => {
    const printed = await printOfficerPages(fakeBrowser(""), out, "2026-03");
    expect(printed).toMatchObject({ kind: "failed", why: "it ended without writing a file" });
  });

  it("ends a browser that never ends", async () => {
    const printed = await printOfficerPages(fakeBrowser("setInterval(() => {}, 1000);"), out, "2026-03", 400);
    expect(printed).toMatchObject({ kind: "failed", why: "it took longer than 0 s" });
  });

  it("writes nowhere else where pdf is a link", async () => {
    symlinkSync(root, join(out, "pdf"));
    await expect(printOfficerPages(fakeBrowser(WRITES), out, "2026-03")).rejects.toThrow(/is a link/);
  });

  it.skipIf(installed === null)("prints with the browser of this machine", async () => {
    expect(await printOfficerPages(installed!, out, "2026-03")).toMatchObject({ kind: "printed" });
    const bytes = readFileSync(join(out, "pdf", "2026-03", "interval-b.pdf"));
    expect(bytes.subarray(0, 5).toString("latin1")).toBe("%PDF-");
  });
});

describe("findBrowser(environment, platform)", () => {
  it("takes the first in PATH that can be run, and knows when there is none", async () => {
    const folder = join(root, "bin");
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, "chromium"), "not executable");
    expect(await findBrowser({ PATH: folder }, "linux")).toBeNull();
    execFileSync("cp", [fakeBrowser(""), join(folder, "google-chrome")]);
    expect(await findBrowser({ PATH: `${join(root, "nowhere")}:${folder}` }, "linux")).toBe(
      join(folder, "google-chrome"),
    );
    expect(await findBrowser({}, "linux")).toBeNull();
  });

  it("looks where Windows keeps its programs", async () => {
    const edge = join(root, "Programs", "Microsoft/Edge/Application");
    mkdirSync(edge, { recursive: true });
    execFileSync("cp", [fakeBrowser(""), join(edge, "msedge.exe")]);
    expect(await findBrowser({ PROGRAMFILES: join(root, "Programs") }, "win32")).toBe(
      join(edge, "msedge.exe"),
    );
  });
});
