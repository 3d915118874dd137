/** Positions on which components have been replaced for decades, of which the export has the last years only. */

import { power } from "../../src/math/power.ts";
import { seededRandom } from "../../src/math/random.ts";
import { overLimitTable } from "../../src/records/event-table.ts";
import type { LifeTable } from "../../src/records/life-table.ts";
import { buildLives } from "../../src/records/lives.ts";
import { isoDate } from "../../src/units.ts";
import { dayOfText, type LookInput, makeExports } from "../support/make-exports.ts";

export const INTERVAL_H = 600;
/** Lives to the limit, hours. */
export const TRUE_LIFE = { shape: 3, scaleHours: 4200 };

const BEGIN = dayOfText("2020-01-01");
/** One hour a day is flown, and looks are made to the hour. */
const DAYS_BEFORE = 20_000;

/** The table of over-limit lives that the records of so many days give, one aircraft a position. */
export function lateTable(seed: number, positions: number, days: number): LifeTable {
  const random = seededRandom(seed);
  const looks: LookInput[] = [];
  const asOf = BEGIN + days;
  for (let position = 0; position < positions; position++) {
    let fitted = BEGIN - DAYS_BEFORE - Math.floor(INTERVAL_H * random.uniform());
    for (let nth = 0; fitted <= asOf; nth++) {
      const life = TRUE_LIFE.scaleHours * power(random.exponential(), 1 / TRUE_LIFE.shape);
      const found = Math.ceil(life / INTERVAL_H);
      for (let look = 1; look <= found; look++) {
        const day = fitted + look * INTERVAL_H;
        if (day < BEGIN || day > asOf) continue;
        looks.push({
          serial: `S${position}-${nth}`,
          on: isoDate(day),
          hours: look * INTERVAL_H,
          wear: look === found ? 0.6 : 0.01,
          aircraft: `A${position}`,
        });
      }
      fitted += found * INTERVAL_H;
    }
  }
  const { lives } = buildLives(makeExports({ looks }), {
    asOf,
    parts: [{ part: "grip bearing", replaceAtMm: 0.5 }],
    airframeClock: false,
    presentIntervalH: () => INTERVAL_H,
  });
  return overLimitTable(lives);
}
