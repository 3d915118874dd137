import { expect, it } from "vitest";
import { type Tally, tryMutant } from "../ingest/mutate.ts";

const MUTANTS = 10_000;

it(`loses no row of ${MUTANTS} exports with spoilt lines`, async () => {
  const tally: Tally = { tried: 0, refused: 0, rows: 0, lost: 0 };
  // Other seeds than those of the quick test.
  for (let seed = 1; seed <= MUTANTS; seed++) await tryMutant(1_000_000 + seed, tally);
  process.stdout.write(
    `${tally.tried} exports tried, ${tally.refused} refused as a whole, ${tally.rows} untouched rows, ${tally.lost} lost\n`,
  );
  expect(tally.lost).toBe(0);
});
