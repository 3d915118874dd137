/** Reading may not change without its version: what the last version kept would be used as if this one had read it. */
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { exportFolder } from "../../src/ingest/read-files.ts";
import { IN_THIS_THREAD, readTexts } from "../../src/ingest/read-texts.ts";
import { READING_VERSION } from "../../src/ingest/reading-version.ts";
import { RotorwearError } from "../../src/problems.ts";
import { digest } from "./digest.ts";
import { smallFleet } from "./support.ts";

const AWKWARD = join(import.meta.dirname, "awkward");
const KNOWN = join(import.meta.dirname, "reading-digests.json");

async function digestsOf(folder: string, fleet: ReturnType<typeof smallFleet>): Promise<string[]> {
  const digests: string[] = [];
  for (const spec of Object.values(fleet.exports)) {
    try {
      const read = await readTexts(exportFolder(folder), spec, IN_THIS_THREAD, () => {});
      digests.push(...read.map(({ texts }) => digest(texts)));
    } catch (error) {
      if (!(error instanceof RotorwearError)) throw error;
      digests.push(digest(error.message));
    }
  }
  return digests;
}

describe("READING_VERSION", () => {
  it("stands for these texts of the awkward exports; raise it, then renew reading-digests.json", async () => {
    const found: Record<string, string> = {};
    for (const name of readdirSync(AWKWARD).sort()) {
      const folder = join(AWKWARD, name);
      const fleet = smallFleet(readFileSync(join(folder, "exports.yaml"), "utf8"));
      found[name] = digest(await digestsOf(folder, fleet));
    }
    const text = `${JSON.stringify({ version: READING_VERSION, digests: found }, null, 2)}\n`;
    // A missing file is written on a developer's machine, to be committed, and fails on CI.
    if (!existsSync(KNOWN) && !process.env.CI) writeFileSync(KNOWN, text);
    expect(JSON.parse(text)).toEqual(JSON.parse(readFileSync(KNOWN, "utf8")));
  });
});
