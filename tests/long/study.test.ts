/** Ten minutes of the simulation study, on seeds of their own: no target may be missed beyond chance. */
import { execFileSync } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";

describe("npm run study", () => {
  it("keeps to its targets on 25 fleets of each kind", async () => {
    const folder = await mkdtemp(join(tmpdir(), "rotorwear-study-"));
    const size = ["--from", "2001", "--fleets", "25", "--power", "60", "--out", folder];
    const output = execFileSync("npm", ["run", "--silent", "study", "--", ...size], { encoding: "utf8" });
    expect(output).toMatch(/^all kinds: 325 fleets/m);
    expect(output).not.toContain("MISSED");
    await rm(folder, { recursive: true });
  });
});
