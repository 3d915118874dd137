/** Predicted against found over the whole replay, each look once. */
import { countPValue } from "../interval/lines-agree.ts";
import { type GroupKey, sameGroup } from "../records/life.ts";
import { isoMonth } from "../units.ts";
import { isFound, type PredictedCount, type PredictedLook, sumOf } from "./predicted-counts.ts";
import type { Method, MonthlyCount, TotalRecord } from "./record-result.ts";

/** A group's prediction of one stretch of months. */
export interface StretchCount {
  readonly group: GroupKey;
  readonly count: PredictedCount;
}

const METHODS: readonly Method[] = ["life", "wear"];

/** All groups together by each method, then each group. */
export function totalsOf(stretches: readonly StretchCount[]): TotalRecord[] {
  const groups = stretches
    .map(({ group }) => group)
    .filter((group, i, all) => all.findIndex((other) => sameGroup(other, group)) === i);
  return [null, ...groups].flatMap((group) =>
    METHODS.flatMap((method) => totalOf(stretches, group, method) ?? []),
  );
}

function totalOf(
  stretches: readonly StretchCount[],
  group: GroupKey | null,
  method: Method,
): TotalRecord | null {
  const own = stretches
    .filter((one) => one.count.method === method && (group === null || sameGroup(one.group, group)))
    .map(({ count }) => count);
  if (own.length === 0) return null;
  const chances = own.flatMap(({ looks }) => looks.map(({ chance }) => chance));
  const uppers = own.map(({ record }) => record.predicted.upper);
  const found = own.reduce((sum, { record }) => sum + record.found, 0);
  return {
    ...{ group, method, found },
    looks: chances.length,
    predicted: sumOf(chances),
    atMost: uppers.some((upper) => upper === null) ? null : sumOf(uppers.map((upper) => upper!)),
    p: countPValue(chances, found),
  };
}

/** The same looks by the month in which each was made, months without one left out. */
export function monthlyCounts(stretches: readonly StretchCount[]): MonthlyCount[] {
  return METHODS.flatMap((method) => {
    const byMonth = new Map<string, PredictedLook[]>();
    for (const { count } of stretches) {
      if (count.method !== method) continue;
      for (const one of count.looks) {
        const month = isoMonth(one.look.day);
        byMonth.set(month, [...(byMonth.get(month) ?? []), one]);
      }
    }
    return [...byMonth]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([month, looks]) => ({
        ...{ month, method },
        looks: looks.length,
        predicted: sumOf(looks.map(({ chance }) => chance)),
        variance: sumOf(looks.map(({ chance }) => chance * (1 - chance))),
        found: looks.filter(({ look }) => isFound(method, look)).length,
      }));
  });
}
