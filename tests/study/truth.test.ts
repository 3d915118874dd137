import { readFileSync } from "node:fs";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { clopperPearson } from "../../src/math/exact-bounds.ts";
import { simulateMaintenance } from "../../src/simulate/maintenance.ts";
import type { PartSettings } from "../../src/simulate/settings.ts";
import { excessOf, TruthBook } from "./cells.ts";
import { drawFleet, partOf, settingsOf } from "./kinds.ts";
import { trueRisks } from "./truth.ts";

/** One rate for all, no scatter, nothing else comes off, looks on time and certain. */
const exact = (part: PartSettings): PartSettings => ({
  ...part,
  newWearSdMm: 0,
  rates: [{ ...part.rates[0]!, logSd: 0 }],
  gauge: { ...part.gauge, scatterMm: 0, detectionChance: 1 },
  looks: { earlyShare: 0, lateShare: 0, overlookedShare: 0, pooledShare: 0 },
  removals: { ...part.removals, conveniencePer1000h: 0, sealLeakPer1000h: 0 },
});

describe("trueRisks(part, intervalH, components, seed)", () => {
  it("counts one find in so many looks where all wear alike (by hand)", () => {
    // 0.02 mm when new, 0.1 mm per 1000 h: the limit of 0.50 mm at 4800 h. Looks at 1000 h: the fifth finds it.
    const part = exact(partOf("plain", 0.3, 0.1, true));
    expect(trueRisks(part, 1000, 50, 1)).toEqual({ overLimit: 1 / 5, unsafe: 0, looks: 250, reached: 50 });
  });

  it("counts as unsafe what is past the unsafe-at limit at the next look (by hand)", () => {
    // The limit at 4800 h; then half as fast again, 0.15 mm per 1000 h: unsafe 2000 h later, at 6800 h.
    const part = exact(partOf("plain", 0.3, 0.1, true));
    // Looks at 2300, 4600, 6900: the third comes too late.
    expect(trueRisks(part, 2300, 20, 1)).toEqual({ overLimit: 0, unsafe: 1, looks: 40, reached: 20 });
    // Looks at 2250, 4500, 6750: just in time.
    expect(trueRisks(part, 2250, 20, 1).unsafe).toBe(0);
  });

  it("agrees with what a simulated fleet writes down over many years", () => {
    const part = partOf("plain", 0.3, 0.12, false);
    const drawn = { ...drawFleet("gentle", 1), aircraft: 60, months: 1200, unsafeAt: false, logSd: 0.3 };
    const settings = settingsOf(drawn, 0.12);
    const [group] = simulateMaintenance(settings, 5).parts[0]!.groups;
    const { looks, looksReadOverLimit } = group!;
    const { lower, upper } = clopperPearson(looksReadOverLimit, looks, 0.999);
    const { overLimit } = trueRisks(part, 600, 20_000, 3);
    // Other arms due within a tenth of their interval are looked at on the same visit: the spacing is a little shorter.
    expect(overLimit).toBeGreaterThan(lower * 0.95);
    expect(overLimit).toBeLessThan(upper * 1.1);
  });
});

describe("excessOf(risks)", () => {
  it("is the worse of the two over what is acceptable", () => {
    const risks = { looks: 1, reached: 1 };
    expect(excessOf({ ...risks, overLimit: 0.05, unsafe: 0.002 })).toBeCloseTo(2, 12);
    expect(excessOf({ ...risks, overLimit: 0.15, unsafe: 0.0001 })).toBeCloseTo(1.5, 12);
  });
});

describe("the true risks kept beside the study", () => {
  it("are those that simulation finds", async () => {
    const lines = readFileSync("tests/study/truth.jsonl", "utf8").trimEnd().split("\n");
    const kept = lines.map((line) => JSON.parse(line) as { key: string; value: unknown });
    expect(new Set(kept.map(({ key }) => key)).size).toBe(kept.length);
    const folder = await mkdtemp(join(tmpdir(), "rotorwear-truth-"));
    // A book that knows the medians alone finds the risks again.
    const medians = join(folder, "medians.jsonl");
    await writeFile(medians, lines.filter((line) => line.includes('"median ')).join("\n"));
    const book = new TruthBook(medians, join(folder, "found.jsonl"));
    const cell = { truth: "plain", logSd: 0.3, unsafeAt: true, ratioStep: 5 } as const;
    const known = kept.find(({ key }) => key === "risks plain 0.3 unsafe-at 5 600");
    expect(book.risksAt(cell, 600)).toEqual(known!.value);
    await rm(folder, { recursive: true });
  });
});
