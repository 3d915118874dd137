/** Removals of each part in each environment, month by month, against the hours flown there. */
import { FINDING, type FlyingRows, type ReadExports, type RemovalRows, wordAt } from "../records/exports.ts";
import { indexFlown } from "../records/flown.ts";
import { hoursFlown } from "../records/flown-hours.ts";
import { NOT_A_FAILURE, UNASSIGNED } from "../records/words.ts";
import { type Day, isoMonth, lastWholeMonth, monthNumber, monthStart } from "../units.ts";
import { type AircraftHours, aircraftEvents, hoursByAircraft } from "./aircraft-events.ts";
import { type CauseOfRemoval, type RankedCause, rankCauses } from "./causes.ts";
import { type Alerts, removalAlerts } from "./control-limits.ts";
import { type FleetTrend, fleetTrend } from "./fleet-trend.ts";
import { type MeanCumulativePoint, meanCumulative } from "./mean-cumulative.ts";
import { type MeanHoursBetween, removalMeans } from "./mtbr.ts";
import { type MonthRate, removalRates } from "./removal-rate.ts";

export interface TrendMonth {
  readonly month: string;
  readonly flightHours: number;
  readonly removals: number;
  readonly unscheduled: number;
}

export interface PartTrend {
  /** Number of the part in the fleet file. */
  readonly part: number;
  readonly environment: string;
  /** Oldest first, without gaps. */
  readonly months: readonly TrendMonth[];
  /** Unscheduled removals per 1000 flight hours, in the order of `months`. */
  readonly rates: readonly MonthRate[];
  readonly alerts: Alerts;
  readonly causes: readonly RankedCause[];
  readonly means: {
    readonly all: MeanHoursBetween;
    readonly unscheduled: MeanHoursBetween;
    /** Unscheduled removals that the shop did not clear. */
    readonly failures: MeanHoursBetween;
  };
  /** Are unscheduled removals coming faster, on the fleet's flight hours there? */
  readonly overHours: FleetTrend;
  /** Unscheduled removals per aircraft against its flight hours there. */
  readonly perAircraft: {
    readonly aircraft: number;
    readonly leftOut: number;
    readonly points: readonly MeanCumulativePoint[];
  };
}

interface Tally {
  readonly events: { readonly aircraft: string | null; readonly day: Day }[];
  /** By `monthNumber`. */
  readonly removals: Map<number, number>;
  readonly unscheduled: Map<number, number>;
  readonly causes: CauseOfRemoval[];
  failures: number;
}

/**
 * Trends up to the as-of day. Empty without removals and flying exports: a rate needs both its count and its hours.
 *
 * A removal belongs to the environment its aircraft flew most hours in that month, else to the one recorded.
 */
export function removalTrends(
  exports: ReadExports,
  asOf: Day,
  options: { readonly windowMonths: number; readonly confidence: number },
): PartTrend[] {
  const { flying, removals } = exports;
  if (removals === null || flying === null || flying.rows === 0) return [];
  const lastMonth = lastWholeMonth(asOf);
  const hours = hoursByEnvironment(flying, lastMonth);
  const fleets = hoursByAircraft(hoursFlown(flying), lastMonth);
  const months = monthsFlown(flying, lastMonth);
  const parts = [...new Set(exports.components.part)].filter((part) => part >= 0).sort((a, b) => a - b);
  const tallies = tally(exports, removals, asOf);
  const trends: PartTrend[] = [];
  for (const part of parts) {
    for (const environment of [...hours.keys()].sort()) {
      const counted = tallies[part]?.get(environment) ?? emptyTally();
      const fleet = fleets.get(environment)!;
      trends.push({
        ...trendOf(part, environment, months, hours.get(environment)!, counted, options),
        perAircraft: perAircraft(fleet, counted),
      });
    }
  }
  return trends;
}

function perAircraft(fleet: AircraftHours, { events }: Tally): PartTrend["perAircraft"] {
  const { units, leftOut } = aircraftEvents(fleet, events);
  return { aircraft: units.length, leftOut, points: meanCumulative(units) };
}

function trendOf(
  part: number,
  environment: string,
  monthNumbers: readonly number[],
  hours: ReadonlyMap<number, number>,
  counted: Tally,
  options: { readonly windowMonths: number; readonly confidence: number },
): Omit<PartTrend, "perAircraft"> {
  const months = monthNumbers.map((month) => ({
    month: isoMonth(monthStart(month)),
    flightHours: hours.get(month) ?? 0,
    removals: counted.removals.get(month) ?? 0,
    unscheduled: counted.unscheduled.get(month) ?? 0,
  }));
  const unscheduled = months.map(({ month, flightHours, unscheduled }) => ({
    month,
    flightHours,
    removals: unscheduled,
  }));
  const sum = (pick: (month: TrendMonth) => number) =>
    months.reduce((total, month) => total + pick(month), 0);
  const means = removalMeans(
    {
      flightHours: sum((month) => month.flightHours),
      all: sum((month) => month.removals),
      unscheduled: sum((month) => month.unscheduled),
      failures: counted.failures,
    },
    options.confidence,
  );
  return {
    part,
    environment,
    months,
    rates: removalRates(unscheduled, options.confidence),
    alerts: removalAlerts(unscheduled, { windowMonths: options.windowMonths }),
    causes: rankCauses(counted.causes),
    means,
    overHours: fleetTrend(
      counted.events.map(({ day }) => day),
      months,
      options.confidence,
    ),
  };
}

const emptyTally = (): Tally => ({
  removals: new Map(),
  unscheduled: new Map(),
  causes: [],
  failures: 0,
  events: [],
});

/** Removals by part number, then environment. */
function tally(exports: ReadExports, removals: RemovalRows, asOf: Day): Map<string, Tally>[] {
  const flown = indexFlown(exports);
  const tallies: Map<string, Tally>[] = [];
  for (let row = 0; row < removals.rows; row++) {
    const day = removals.day[row]!;
    const component = removals.component[row]!;
    if (day > asOf || component < 0) continue;
    const aircraft = wordAt(removals.aircraft, row);
    const recorded = wordAt(removals.environment, row) ?? UNASSIGNED;
    const environment = (aircraft === null ? null : flown.mainEnvironment(aircraft, day, day)) ?? recorded;
    tallies[exports.components.part[component]!] ??= new Map<string, Tally>();
    const ofPart = tallies[exports.components.part[component]!]!;
    const counted = ofPart.get(environment) ?? emptyTally();
    ofPart.set(environment, counted);
    const month = monthNumber(day);
    counted.removals.set(month, (counted.removals.get(month) ?? 0) + 1);
    const mode = wordAt(removals.mode, row) ?? UNASSIGNED;
    if (mode === NOT_A_FAILURE) continue;
    counted.unscheduled.set(month, (counted.unscheduled.get(month) ?? 0) + 1);
    counted.events.push({ aircraft, day });
    const noFaultFound = removals.finding[row] === FINDING.noFaultFound;
    if (!noFaultFound) counted.failures++;
    counted.causes.push({
      cause: mode,
      noFaultFound,
      confirmed: removals.finding[row] === FINDING.confirmed,
    });
  }
  return tallies;
}

/** Hours by environment, then month; a month that is not over has only part of its hours and is left out. */
function hoursByEnvironment(flying: FlyingRows, lastMonth: number): Map<string, Map<number, number>> {
  const hours = new Map<string, Map<number, number>>();
  for (let row = 0; row < flying.rows; row++) {
    const month = monthNumber(flying.month[row]!);
    if (month > lastMonth) continue;
    const environment = wordAt(flying.environment, row) ?? UNASSIGNED;
    let months = hours.get(environment);
    if (months === undefined) {
      months = new Map<number, number>();
      hours.set(environment, months);
    }
    months.set(month, (months.get(month) ?? 0) + flying.hours[row]!);
  }
  return hours;
}

/** Every month from the first flown in to the last that is over. */
function monthsFlown(flying: FlyingRows, lastMonth: number): number[] {
  let first = Number.POSITIVE_INFINITY;
  for (const day of flying.month) first = Math.min(first, monthNumber(day));
  return Array.from({ length: Math.max(0, lastMonth - first + 1) }, (_, at) => first + at);
}
