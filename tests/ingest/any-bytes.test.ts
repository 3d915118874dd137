import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { RotorwearError } from "../../src/problems.ts";
import { type Tally, tryMutant } from "./mutate.ts";
import { readWear } from "./support.ts";

const MUTANTS = 2000;

describe("readExports(fleet, source, onProblem) on hostile bytes", () => {
  it("reads any bytes to a balanced ledger or a documented error", async () => {
    const pieces = fc.constantFrom(
      "Serial,Date,Hours,Wear\n",
      "A1,2026-01-05,100.5,0.11\n",
      '"',
      "\r",
      "\n",
      ",",
      ";",
      "\0",
      "\u00e9",
      "Total",
    );
    const texts = fc
      .array(fc.oneof(pieces, fc.string()), { maxLength: 40 })
      .map((parts) => Buffer.from(parts.join(""), "utf8"));
    await fc.assert(
      fc.asyncProperty(
        fc.oneof(fc.uint8Array({ maxLength: 400 }), texts),
        fc.integer({ min: 1, max: 99 }),
        async (bytes, chunk) => {
          const outcome = await readWear(bytes, undefined, chunk).catch((error: unknown) => error);
          if (outcome instanceof Error) {
            expect(outcome).toBeInstanceOf(RotorwearError);
            expect((outcome as RotorwearError).exitCode).toBe(3);
            return;
          }
          const [ledger] = (outcome as Awaited<ReturnType<typeof readWear>>).exports.files;
          expect(ledger!.headingLines + ledger!.blankLines + ledger!.totalsLines + ledger!.rowLines).toBe(
            ledger!.lines,
          );
          expect(ledger!.accepted + ledger!.rejected + ledger!.identical + ledger!.superseded).toBe(
            ledger!.read,
          );
          expect(ledger!.bytes).toBe(bytes.length);
        },
      ),
      { numRuns: 1000, seed: 4 },
    );
  });

  it(`loses no row of ${MUTANTS} exports with spoilt lines`, async () => {
    const tally: Tally = { tried: 0, refused: 0, rows: 0, lost: 0 };
    for (let seed = 1; seed <= MUTANTS; seed++) await tryMutant(seed, tally);
    expect(tally.tried).toBe(MUTANTS);
    expect(tally.lost).toBe(0);
    expect(tally.rows).toBeGreaterThan(20 * MUTANTS);
    // Most spoilt lines are one row's matter.
    expect(tally.refused).toBeLessThan(MUTANTS / 50);
  });
});
