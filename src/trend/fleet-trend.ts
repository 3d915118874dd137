/**
 * Do removals come ever faster as the fleet flies? Their days are placed on the fleet's cumulative flight hours, so that
 * a busy season is no trend, and tested there.
 */
import { type Day, dayFromIso, monthNumber } from "../units.ts";
import { shareOfMonth } from "./aircraft-events.ts";
import { fitPowerLaw, type PowerLawFit } from "./power-law.ts";
import { laplaceTest, militaryHandbookTest, type ObservedSystem, type TrendTest } from "./trend-tests.ts";

export interface MonthHours {
  /** YYYY-MM */
  readonly month: string;
  readonly flightHours: number;
}

export interface FleetTrend {
  /** Events on the fleet's cumulative hours, over all hours flown in the months. */
  readonly system: ObservedSystem & { readonly observedHours: number };
  /** Events that fall outside the months, or before the first hour flown: left out. */
  readonly leftOut: number;
  readonly laplace: TrendTest;
  readonly militaryHandbook: TrendTest;
  readonly powerLaw: PowerLawFit;
}

/**
 * Trend of events over a fleet's flight hours.
 *
 * @param days    day of each event
 * @param months  hours flown, month after month without gaps, oldest first; within a month they are taken as flown evenly
 */
export function fleetTrend(
  days: readonly Day[],
  months: readonly MonthHours[],
  confidence: number,
): FleetTrend {
  const before = new Map<number, { startHours: number; flightHours: number }>();
  let total = 0;
  for (const { month, flightHours } of months) {
    before.set(monthNumber(dayFromIso(`${month}-01`)!), { startHours: total, flightHours });
    total += flightHours;
  }
  const placed = days.map((day) => {
    const month = before.get(monthNumber(day));
    return month === undefined ? 0 : month.startHours + month.flightHours * shareOfMonth(day);
  });
  const eventHours = placed.filter((hours) => hours > 0).sort((a, b) => a - b);
  const system = { eventHours, observedHours: total };
  return {
    system,
    leftOut: days.length - eventHours.length,
    laplace: laplaceTest([system]),
    militaryHandbook: militaryHandbookTest([system]),
    powerLaw: fitPowerLaw(system, confidence),
  };
}
