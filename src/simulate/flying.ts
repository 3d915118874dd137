/** The flying: which aircraft flew how many hours in which month, from which base, with which seal ring. */
import type { Random } from "../math/random.ts";
import { addMonths, type Day } from "../units.ts";
import type { FlyingRow } from "./rows.ts";
import type { FlyingSettings, PartSettings, RetrofitSettings } from "./settings.ts";

export interface Flying {
  readonly settings: FlyingSettings;
  readonly aircraft: number;
  /** First day of each month, and of the one after the last. */
  readonly monthStart: readonly Day[];
  /** Hours flown, by aircraft × months + month. */
  readonly hours: Float64Array;
  /** Base (an index into the settings' bases), likewise. */
  readonly base: Int32Array;
  /** Standard (an index into `standards`), likewise. */
  readonly standard: Int32Array;
  readonly standards: readonly string[];
  /** Standard normal effect of each aircraft on its wear rates. */
  readonly effect: Float64Array;
  /** Month in which the aircraft got a later ring, or -1; and the retrofit it belongs to. */
  readonly retrofitMonth: Int32Array;
  readonly retrofitOf: readonly (RetrofitSettings | null)[];
}

/** Simulate the flying. `rated` (the first part) says which aircraft are the worst, for retrofits. */
export function simulateFlying(settings: FlyingSettings, rated: PartSettings, random: Random): Flying {
  const aircraft = settings.bases.reduce((sum, base) => sum + base.aircraft, 0);
  const cells = aircraft * settings.months;
  const standards = [...new Set([settings.firstStandard, ...rated.rates.map((rate) => rate.standard)])];
  const flying = {
    settings,
    aircraft,
    monthStart: Array.from({ length: settings.months + 1 }, (_, month) =>
      addMonths(settings.firstDay, month),
    ),
    hours: new Float64Array(cells),
    base: new Int32Array(cells),
    standard: new Int32Array(cells),
    standards,
    effect: Float64Array.from({ length: aircraft }, () => random.normal()),
    retrofitMonth: new Int32Array(aircraft).fill(-1),
    retrofitOf: new Array<RetrofitSettings | null>(aircraft).fill(null),
  };
  fillBases(flying, random);
  fillStandards(flying);
  for (const retrofit of settings.retrofits) fitLaterRings(flying, retrofit);
  return flying;
}

function fillBases(flying: Flying, random: Random): void {
  const { settings } = flying;
  let aircraft = 0;
  for (const [home, base] of settings.bases.entries()) {
    for (let k = 0; k < base.aircraft; k++, aircraft++) {
      let at = home;
      const own = Math.exp(settings.aircraftLogSd * random.normal());
      for (let month = 0; month < settings.months; month++) {
        at = baseInMonth(flying, aircraft, month, at, random);
        const mean = settings.bases[at]!.hoursPerMonth * own;
        const flown = mean * Math.exp(settings.monthLogSd * random.normal());
        const cell = aircraft * settings.months + month;
        flying.base[cell] = at;
        flying.hours[cell] = Math.max(0.1, Math.round(flown * 10) / 10);
      }
    }
  }
}

function baseInMonth(flying: Flying, aircraft: number, month: number, at: number, random: Random): number {
  const { bases, plannedMoves, moveChancePerMonth } = flying.settings;
  const planned = plannedMoves.find((move) => move.aircraft === aircraft && move.month === month);
  if (planned !== undefined) {
    const to = bases.findIndex((base) => base.base === planned.base);
    if (to < 0) throw new Error(`plannedMoves names an unknown base: ${planned.base}`);
    return to;
  }
  if (moveChancePerMonth === 0 || bases.length < 2 || random.uniform() >= moveChancePerMonth) return at;
  return (at + 1 + random.below(bases.length - 1)) % bases.length;
}

function fillStandards(flying: Flying): void {
  let aircraft = 0;
  for (const base of flying.settings.bases) {
    // The later standards go to the last aircraft of a base: the youngest airframes.
    let last = aircraft + base.aircraft;
    for (const [standard, share] of Object.entries(base.initialShare ?? {})) {
      const index = standardIndex(flying, standard);
      const first = last - Math.round(share * base.aircraft);
      for (let k = first; k < last; k++) fillFrom(flying, k, 0, index);
      last = first;
    }
    aircraft += base.aircraft;
  }
}

function fitLaterRings(flying: Flying, retrofit: RetrofitSettings): void {
  const { settings } = flying;
  const index = standardIndex(flying, retrofit.standard);
  const waiting = Array.from({ length: flying.aircraft }, (_, k) => k).filter((k) => {
    const cell = k * settings.months + Math.min(retrofit.fromMonth, settings.months - 1);
    return (
      flying.standard[cell] !== index &&
      settings.bases[flying.base[cell]!]!.environment === retrofit.environment
    );
  });
  waiting.sort((a, b) => flying.effect[b]! - flying.effect[a]!);
  for (const [order, k] of waiting.slice(0, retrofit.aircraft).entries()) {
    const month = retrofit.fromMonth + Math.floor(order / retrofit.aircraftPerMonth);
    if (month >= settings.months) continue;
    flying.retrofitMonth[k] = month;
    (flying.retrofitOf as (RetrofitSettings | null)[])[k] = retrofit;
    fillFrom(flying, k, month, index);
  }
}

function fillFrom(flying: Flying, aircraft: number, month: number, standard: number): void {
  const { months } = flying.settings;
  flying.standard.fill(standard, aircraft * months + month, (aircraft + 1) * months);
}

function standardIndex(flying: Flying, standard: string): number {
  const index = flying.standards.indexOf(standard);
  if (index < 0) throw new Error(`no wear rate is given for the standard ${standard}`);
  return index;
}

/** The flying export's rows, while records were kept: month by month, aircraft by aircraft. */
export function flyingRows(flying: Flying): FlyingRow[] {
  const { months, recordsBeginMonth, bases } = flying.settings;
  const rows: FlyingRow[] = [];
  for (let month = recordsBeginMonth; month < months; month++) {
    for (let aircraft = 0; aircraft < flying.aircraft; aircraft++) {
      const cell = aircraft * months + month;
      const { base, environment } = bases[flying.base[cell]!]!;
      rows.push({ aircraft, month, base, environment, hours: flying.hours[cell]! });
    }
  }
  return rows;
}
