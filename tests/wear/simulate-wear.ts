import { seededRandom } from "../../src/math/random.ts";
import type { WearTable } from "../../src/records/wear-table.ts";
import { componentSums } from "../../src/wear/component-sums.ts";
import type { DecisionData } from "../../src/wear/decision-likelihood.ts";

export interface WearTruth {
  readonly seed: number;
  readonly components: number;
  /** Components on one aircraft share part of their rate. */
  readonly perAircraft?: number;
  readonly aircraftCorrelation?: number;
  readonly interceptMm?: number;
  readonly interceptSdMm?: number;
  readonly scatterMm?: number;
  readonly medianRate?: number;
  readonly spread?: number;
  readonly family?: "lognormal" | "normal";
  readonly intervalHours?: number;
  /** Hours of record per place; a component fitted before it began enters late. */
  readonly recordHours?: number;
  readonly replaceAtMm?: number;
  readonly exponent?: number;
  /** One component a place, followed from new: aircraft of equal size, no late entry. */
  readonly fromNew?: boolean;
}

/**
 * Maintenance itself: places worn through by one component after another, each looked at every interval and replaced
 * at the limit; the record begins at a random moment of that, and what is in it is what the export would hold.
 */
export function simulateWear(
  truth: WearTruth,
): DecisionData & { readonly table: WearTable; rates: number[] } {
  const t = {
    perAircraft: 1,
    aircraftCorrelation: 0,
    interceptMm: 0.02,
    interceptSdMm: 0.01,
    scatterMm: 0.015,
    medianRate: 0.25,
    spread: 0.4,
    family: "lognormal" as const,
    intervalHours: 300,
    recordHours: 2400,
    replaceAtMm: 0.5,
    exponent: 1,
    fromNew: false,
    ...truth,
  };
  const random = seededRandom(t.seed);
  const rows: [number, number, number][] = [];
  const entry: number[] = [];
  const aircraft: number[] = [];
  const rates: number[] = [];
  const shared: number[] = [];
  for (let place = 0; rates.length < t.components; place++) {
    const tail = Math.floor(place / t.perAircraft);
    shared[tail] ??= random.normal();
    // The record begins after a burn-in, so that components are met at all ages.
    const begin = t.fromNew ? 0 : 6000 + random.uniform() * 3000;
    let fitted = 0;
    while (fitted < begin + t.recordHours && rates.length < t.components) {
      const rho = t.aircraftCorrelation;
      const z = Math.sqrt(rho) * shared[tail]! + Math.sqrt(1 - rho) * random.normal();
      const rate =
        t.family === "lognormal"
          ? t.medianRate * Math.exp(t.spread * z)
          : Math.max(1e-6, t.medianRate * (1 + t.spread * z));
      const offset = t.interceptMm + t.interceptSdMm * random.normal();
      const number = rates.length;
      let late = 0;
      let kept = 0;
      let hours = 0;
      for (;;) {
        hours += t.intervalHours * (0.9 + 0.2 * random.uniform());
        const now = fitted + hours;
        if (now > begin + t.recordHours) break;
        const wear = offset + rate * (hours / 1000) ** t.exponent + t.scatterMm * random.normal();
        if (now <= begin) late = hours;
        else {
          rows.push([number, hours, wear]);
          kept++;
        }
        if (wear >= t.replaceAtMm) break;
      }
      if (kept > 0) {
        rates.push(rate);
        entry.push(late);
        aircraft.push(tail);
      }
      fitted += hours;
      if (t.fromNew) break;
    }
  }
  const table: WearTable = {
    rows: rows.length,
    components: rates.length,
    component: Int32Array.from(rows, (row) => row[0]),
    hours: Float64Array.from(rows, (row) => row[1]),
    wearMm: Float64Array.from(rows, (row) => row[2]),
  };
  return {
    table,
    rates,
    sums: componentSums(table),
    entryHours: Float64Array.from(entry),
    aircraft: Int32Array.from(aircraft),
    replaceAtMm: t.replaceAtMm,
  };
}
