/**
 * What the seal has to do with wear: the rate of hours flown out of tolerance over that of hours in tolerance, by
 * environment, with whole aircraft drawn again; the unobserved gap placed three ways and the pessimistic one shown.
 */
import { seededRandom } from "../math/random.ts";
import { fitJointModel, type JointModel } from "./joint-model.ts";
import { cellsOf, type JointTable } from "./joint-table.ts";
import { CROSSINGS, type Crossing, type SealPeriod, sealHours } from "./seal-hours.ts";

/** Wear readings of the components that have seal periods. */
export interface SealReadings {
  readonly rows: number;
  readonly component: Int32Array;
  readonly aircraft: Int32Array;
  readonly hours: Float64Array;
  readonly wearMm: Float64Array;
  readonly environments: readonly string[];
}

export interface SealRatio {
  /** Null: all environments together, each rate against its own. */
  readonly environment: string | null;
  readonly hoursIn: number;
  readonly hoursOut: number;
  readonly ratio: number;
  readonly lower: number;
  readonly upper: number;
}

export interface SealWay {
  readonly crossing: Crossing;
  /** Share of the known hours flown out of tolerance. */
  readonly shareOut: number;
  readonly together: SealRatio;
  readonly byEnvironment: readonly SealRatio[];
  /** As a scenario only: mean rate of these hours as flown, and had every seal been in tolerance. */
  readonly rateAsFlown: number;
  readonly rateAllInTolerance: number;
  readonly hoursNotKnown: number;
}

export type SealEffect =
  | {
      readonly kind: "fitted";
      /** The way with the smallest lower bound of the ratio: the least that the readings show. */
      readonly pessimistic: SealWay;
      readonly ways: readonly SealWay[];
      /** One way or another could not be fitted. */
      readonly missing: readonly { readonly crossing: Crossing; readonly why: string }[];
    }
  | { readonly kind: "not-fitted"; readonly why: string };

export interface SealOptions {
  /** Two-sided. __Default value:__ 0.95 */
  readonly confidence?: number;
  /** Draws of whole aircraft. __Default value:__ 999 */
  readonly draws?: number;
  readonly seed?: number;
}

/** The seal effect three ways. */
export function sealEffect(
  readings: SealReadings,
  periods: readonly SealPeriod[],
  options: SealOptions = {},
): SealEffect {
  const ways: SealWay[] = [];
  const missing: { crossing: Crossing; why: string }[] = [];
  for (const crossing of CROSSINGS) {
    const way = sealWay(readings, periods, crossing, options);
    if ("why" in way) missing.push({ crossing, why: way.why });
    else ways.push(way);
  }
  const [first, ...rest] = ways;
  if (first === undefined) return { kind: "not-fitted", why: missing[0]!.why };
  const pessimistic = rest.reduce(
    (least, way) => (way.together.lower < least.together.lower ? way : least),
    first,
  );
  return { kind: "fitted", pessimistic, ways, missing };
}

function sealWay(
  readings: SealReadings,
  periods: readonly SealPeriod[],
  crossing: Crossing,
  options: SealOptions,
): SealWay | { why: string } {
  const { confidence = 0.95, draws = 999, seed = 1 } = options;
  const table = sealTable(readings, periods, crossing);
  if (!hasBothStates(table)) return { why: NOT_BOTH };
  const model = fitJointModel(table, { confidence, slopes: "in proportion" });
  if (model.kind !== "fitted") return { why: model.why };
  const place = (state: string, environment: string) =>
    model.rates.findIndex((rate) => rate.environment === nameOf(environment, state));
  const pairs = readings.environments
    .map((environment) => ({ environment, inside: place("in", environment), out: place("out", environment) }))
    .filter(({ inside, out }) => inside >= 0 && out >= 0);
  if (pairs.length === 0) return { why: NOT_BOTH };
  const resampled = model.resampledRates(seededRandom(seed), draws);
  const byEnvironment = pairs.map(({ environment, inside, out }) => {
    const logs = logRatios(resampled, model.rates.length, inside, out);
    const fieller = model.ratio(out, inside);
    const [lower, upper] = percentiles(logs, confidence);
    return {
      environment,
      hoursIn: model.rates[inside]!.hours,
      hoursOut: model.rates[out]!.hours,
      ratio: fieller.estimate,
      // Whichever is wider: the model's bound with its aircraft effect, or aircraft drawn again.
      lower: Math.min(fieller.lower ?? 0, Math.exp(lower)),
      upper: Math.max(fieller.upper ?? Number.POSITIVE_INFINITY, Math.exp(upper)),
      logs,
    };
  });
  const out = sumOf(model, "out");
  const inside = sumOf(model, "in");
  const flown = out.hours + inside.hours;
  return {
    crossing,
    shareOut: out.hours / flown,
    together: combined(byEnvironment, confidence),
    byEnvironment: byEnvironment.map(({ logs: _, ...ratio }) => ratio),
    rateAsFlown: (out.wear + inside.wear) / flown,
    rateAllInTolerance: allInTolerance(model, pairs, flown),
    hoursNotKnown: sumOf(model, "not known").hours,
  };
}

const NOT_BOTH = "no environment has hours in and out of tolerance";

/** Whether some environment has hours of both states: looked at before a fit is paid for. */
function hasBothStates(table: JointTable): boolean {
  const names = new Set(cellsOf(table).map(({ environment }) => table.environments[environment]!));
  return [...names].some((name) => name.endsWith(" / in") && names.has(name.replace(/in$/, "out")));
}

const nameOf = (environment: string, state: string): string => `${environment} / ${state}`;

/**
 * Readings from the first visit to their component's seal on, with hours since then by environment and state. Hours
 * without gaps are "not known": neither in nor out, with a rate of their own, in the environment of that first visit.
 */
function sealTable(readings: SealReadings, periods: readonly SealPeriod[], crossing: Crossing): JointTable {
  const { environments } = readings;
  const byComponent = new Map<number, SealPeriod[]>();
  for (const period of periods) {
    const known = byComponent.get(period.component);
    if (known === undefined) byComponent.set(period.component, [period]);
    else known.push(period);
  }
  const kept = Array.from(readings.hours.keys()).filter((row) => {
    const first = byComponent.get(readings.component[row]!)?.[0];
    return first !== undefined && readings.hours[row]! >= first.fromHours;
  });
  const rows = kept.length;
  const columns = environments.flatMap((environment) => [
    { name: nameOf(environment, "in"), hours: new Float64Array(rows) },
    { name: nameOf(environment, "out"), hours: new Float64Array(rows) },
  ]);
  const notKnown = environments.map((environment) => ({
    name: nameOf(environment, "not known"),
    hours: new Float64Array(rows),
  }));
  for (const [row, until] of kept.map((at) => readings.hours[at]!).entries()) {
    const own = byComponent.get(readings.component[kept[row]!]!)!;
    let known = 0;
    for (const period of own) {
      const hours = sealHours(period, crossing, until);
      columns[2 * period.environment]!.hours[row]! += hours.inTolerance;
      columns[2 * period.environment + 1]!.hours[row]! += hours.outOfTolerance;
      known += hours.inTolerance + hours.outOfTolerance;
    }
    const [first] = own as [SealPeriod];
    notKnown[first.environment]!.hours[row] = Math.max(0, until - first.fromHours - known);
  }
  const used = [...columns, ...notKnown];
  const pick = (values: ArrayLike<number>) => kept.map((at) => values[at]!);
  return {
    rows,
    component: Int32Array.from(pick(readings.component)),
    aircraft: Int32Array.from(pick(readings.aircraft)),
    standard: new Int32Array(rows),
    hoursIn: used.map((column) => column.hours),
    wearMm: Float64Array.from(pick(readings.wearMm)),
    environments: used.map((column) => column.name),
    standards: ["all"],
  };
}

function logRatios(resampled: Float64Array, rates: number, inside: number, out: number): Float64Array {
  const draws = resampled.length / rates;
  return Float64Array.from({ length: draws }, (_, k) => {
    const low = resampled[k * rates + inside]!;
    const high = resampled[k * rates + out]!;
    // A rate at or below zero says that the ratio is anything: as far out as the other draws need.
    return low > 0 && high > 0 ? Math.log(high / low) : high <= 0 ? -10 : 10;
  });
}

function percentiles(logs: Float64Array, confidence: number): [number, number] {
  const sorted = Float64Array.from(logs).sort();
  const at = (p: number) =>
    sorted[Math.min(sorted.length - 1, Math.max(0, Math.round(p * (sorted.length - 1))))]!;
  return [at((1 - confidence) / 2), at((1 + confidence) / 2)];
}

/** All environments together: mean of the log ratios, weighted by how well each is known. */
function combined(
  parts: readonly (Omit<SealRatio, "environment"> & { logs: Float64Array })[],
  confidence: number,
): SealRatio {
  const weights = parts.map(({ logs }) => {
    const mean = logs.reduce((sum, v) => sum + v, 0) / logs.length;
    return 1 / (logs.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (logs.length - 1));
  });
  const total = weights.reduce((sum, w) => sum + w, 0);
  const mean = (of: (k: number) => number) =>
    parts.reduce((sum, _, k) => sum + (weights[k]! / total) * of(k), 0);
  const draws = parts[0]!.logs.map((_, draw) => mean((k) => parts[k]!.logs[draw]!));
  const [low, high] = percentiles(draws, confidence);
  const single = parts.length === 1 ? parts[0]! : null;
  return {
    environment: null,
    hoursIn: parts.reduce((sum, part) => sum + part.hoursIn, 0),
    hoursOut: parts.reduce((sum, part) => sum + part.hoursOut, 0),
    ratio: Math.exp(mean((k) => Math.log(parts[k]!.ratio))),
    lower: single?.lower ?? Math.exp(low),
    upper: single?.upper ?? Math.exp(high),
  };
}

function sumOf(model: JointModel, state: string): { hours: number; wear: number } {
  let hours = 0;
  let wear = 0;
  for (const rate of model.rates) {
    if (!rate.environment.endsWith(` / ${state}`)) continue;
    hours += rate.hours;
    wear += rate.hours * rate.rateMmPer1000Hours;
  }
  return { hours, wear };
}

/** Mean rate had the hours out of tolerance worn like those in it, environment by environment. */
function allInTolerance(
  model: JointModel,
  pairs: readonly { inside: number; out: number }[],
  flown: number,
): number {
  let wear = sumOf(model, "in").wear + sumOf(model, "out").wear;
  for (const { inside, out } of pairs) {
    const hours = model.rates[out]!.hours;
    wear -= hours * (model.rates[out]!.rateMmPer1000Hours - model.rates[inside]!.rateMmPer1000Hours);
  }
  return wear / flown;
}
