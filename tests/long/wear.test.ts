import { readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { boundCoverage, recordBias } from "../wear/wear-simulations.ts";

// The committed tables are what these simulations gave; ROTORWEAR_WRITE_TABLES=1 writes them anew.
const file = new URL("../reference/wear-simulations.json", import.meta.url);
const rewriting = process.env.ROTORWEAR_WRITE_TABLES === "1";
const committed = rewriting ? null : JSON.parse(readFileSync(file, "utf8"));

describe("the decision fit by simulation", () => {
  it("gives the committed tables: bounds that cover, and no bias on short records", () => {
    const coverage = [0, 0.3, 0.5].flatMap((correlation) =>
      [12, 16, 32, 52, 100].map((components) => boundCoverage(components, correlation, 200)),
    );
    const bias = [600, 1200, 2400].map((hours) => recordBias(hours, 30));
    if (rewriting) {
      const rows = (table: readonly object[]) => table.map((row) => `    ${JSON.stringify(row)}`).join(",\n");
      writeFileSync(
        file,
        `{\n  "coverage": [\n${rows(coverage)}\n  ],\n  "bias": [\n${rows(bias)}\n  ]\n}\n`,
      );
    }
    for (const row of coverage) {
      // 0.95 less two standard errors of 200 fleets.
      expect(Math.min(row.fastestInThousand, row.belowLimitAt660Hours), JSON.stringify(row)).toBeGreaterThan(
        0.925,
      );
    }
    for (const row of bias) expect(Math.abs(row.decisionFit - 1)).toBeLessThan(0.04);
    if (committed !== null) expect({ coverage, bias }).toEqual(committed);
  });
});
