/**
 * What the seal has to do with the wear of one part: hours flown with its gap in and out of tolerance, the rate in the
 * one over that in the other, how fast gaps drift, and, as a scenario only, the rate with every seal in tolerance.
 */
import type { Fleet } from "../fleet/fleet.ts";
import type { GapJoin, JoinedGap } from "../records/gap-join.ts";
import { componentCount, type Life } from "../records/life.ts";
import { aircraftOfLives, pieceAt, type WholeLife, wholeLives } from "../records/whole-lives.ts";
import { gapDrift } from "../wear/gap-drift.ts";
import { type SealReadings, type SealWay, sealEffect } from "../wear/seal-effect.ts";
import { CROSSINGS, type Crossing, type SealPeriod, sealHours } from "../wear/seal-hours.ts";
import type { Bounded } from "./month-result.ts";

/** Hours and rate ratio with the moment at which a gap left its tolerance placed in one way. */
export interface SealWayFinding {
  readonly crossing: Crossing;
  readonly hoursIn: number;
  readonly hoursOut: number;
  /** Rate of hours out of tolerance over that of hours in; null where there are none of the one or the other. */
  readonly ratio: Bounded | null;
}

/** One environment and standard. */
export interface SealGroup {
  readonly environment: string;
  readonly standard: string;
  readonly ways: readonly SealWayFinding[];
  /** The way with the smallest lower bound of the ratio; null where none has a ratio. */
  readonly pessimistic: SealWayFinding | null;
  /** As a scenario only: the group's rate with every seal in tolerance, as a share of its rate as flown. */
  readonly rateAllIn: Bounded | null;
  readonly driftMmPer1000H: Bounded | null;
}

export type SealFinding =
  | {
      readonly kind: "fitted";
      /** Gap readings joined to components of this part, and those of the export that joined none. */
      readonly joined: number;
      readonly notJoined: number;
      readonly components: number;
      readonly groups: readonly SealGroup[];
      /** All environments together, by the way with the smallest lower bound. */
      readonly together: SealWayFinding;
    }
  | { readonly kind: "none"; readonly why: string };

/** Draws of whole aircraft: enough for bounds of 95 % to two digits. */
const DRAWS = 299;

/** @param lives of one part */
export function sealFinding(
  lives: readonly Life[],
  gaps: GapJoin,
  tolerances: Fleet["sealGaps"],
  confidence: number,
): SealFinding {
  const whole = wholeLives(lives);
  const joined = gapsByLife(whole, gaps.joined);
  const count = joined.reduce((sum, own) => sum + own.length, 0);
  if (count === 0) return { kind: "none", why: "no gap reading joins a component of this part" };
  const visited = whole.flatMap((life, k) => (joined[k]!.length > 1 ? [{ life, gaps: joined[k]! }] : []));
  const kept = visited.map(({ life }) => life);
  const labels: string[] = [];
  const periods = visited.flatMap(({ life, gaps: own }, component) =>
    periodsOf(life, component, own, tolerances, labels),
  );
  if (periods.length === 0)
    return { kind: "none", why: "no component has two gap readings and a tolerance for its standard" };
  const aircraft = aircraftOfLives(kept);
  const effect = sealEffect(readingsOf(kept, aircraft, labels), periods, { confidence, draws: DRAWS });
  if (effect.kind !== "fitted") return { kind: "none", why: effect.why };
  const { pessimistic, ways } = effect;
  return {
    kind: "fitted",
    joined: count,
    notJoined: [...gaps.notJoined.values()].reduce((sum, rows) => sum + rows, 0),
    components: componentCount(periods),
    groups: labels.map((label, k) => {
      const own = periods.filter(({ environment }) => environment === k);
      return groupOf(label, own, aircraft, ways, confidence);
    }),
    together: {
      crossing: pessimistic.crossing,
      ...hoursOf(periods, pessimistic.crossing),
      ratio: finite(pessimistic.together),
    },
  };
}

const finite = ({ ratio, lower, upper }: { ratio: number; lower: number; upper: number }): Bounded => ({
  estimate: ratio,
  lower,
  upper: Number.isFinite(upper) ? upper : null,
});

function hoursOf(periods: readonly SealPeriod[], crossing: Crossing): { hoursIn: number; hoursOut: number } {
  let hoursIn = 0;
  let hoursOut = 0;
  for (const period of periods) {
    const hours = sealHours(period, crossing);
    hoursIn += hours.inTolerance;
    hoursOut += hours.outOfTolerance;
  }
  return { hoursIn, hoursOut };
}

function groupOf(
  label: string,
  own: readonly SealPeriod[],
  aircraft: Int32Array,
  fitted: readonly SealWay[],
  confidence: number,
): SealGroup {
  const ways = CROSSINGS.map((crossing): SealWayFinding => {
    const found = fitted
      .find((way) => way.crossing === crossing)
      ?.byEnvironment.find(({ environment }) => environment === label);
    return { crossing, ...hoursOf(own, crossing), ratio: found === undefined ? null : finite(found) };
  });
  const pessimistic = ways
    .filter(({ ratio }) => ratio !== null)
    .reduce<SealWayFinding | null>(
      (least, way) => (least === null || (way.ratio!.lower ?? 0) < (least.ratio!.lower ?? 0) ? way : least),
      null,
    );
  const drift = gapDrift(
    own,
    own.map(({ component }) => aircraft[component]!),
    confidence,
  );
  const [environment, standard] = JSON.parse(label) as [string, string];
  return {
    environment,
    standard,
    ways,
    pessimistic,
    rateAllIn: pessimistic === null ? null : allIn(pessimistic),
    driftMmPer1000H:
      drift.kind === "fitted"
        ? { estimate: drift.driftMmPer1000Hours, lower: drift.lower, upper: drift.upper }
        : null,
  };
}

/** With a share s of hours out of tolerance wearing r times as fast: 1 / (1 + s·(r − 1)) of the rate as flown. */
function allIn({ hoursIn, hoursOut, ratio }: SealWayFinding): Bounded {
  const { estimate, lower, upper } = ratio!;
  const at = (times: number) => 1 / (1 + (hoursOut / (hoursIn + hoursOut)) * (times - 1));
  return { estimate: at(estimate), lower: upper === null ? null : at(upper), upper: at(lower ?? 0) };
}

/** Joined gaps of each life: of its component, up to its last record, since the life before it. */
function gapsByLife(lives: readonly WholeLife[], joined: readonly JoinedGap[]): JoinedGap[][] {
  const byComponent = new Map<number, JoinedGap[]>();
  for (const gap of joined) {
    const known = byComponent.get(gap.component);
    if (known) known.push(gap);
    else byComponent.set(gap.component, [gap]);
  }
  return lives.map((life, k) => {
    const before = lives[k - 1];
    const since = before?.component === life.component ? lastDayOf(before) : Number.NEGATIVE_INFINITY;
    const goesOn = lives[k + 1]?.component === life.component;
    const until = goesOn ? lastDayOf(life) : Number.POSITIVE_INFINITY;
    return (byComponent.get(life.component) ?? []).filter(({ day }) => day > since && day <= until);
  });
}

const lastDayOf = ({ pieces }: WholeLife): number => pieces[pieces.length - 1]!.lastDay;

/** Times between two visits to a seal: as left (or, where it was not set again, as found) to as next found. */
function periodsOf(
  life: WholeLife,
  component: number,
  gaps: readonly JoinedGap[],
  tolerances: Fleet["sealGaps"],
  labels: string[],
): SealPeriod[] {
  const visits = new Map<number, { hours: number; found: number | null; left: number | null }>();
  for (const { day, hours, gapMm, state } of gaps) {
    const visit = visits.get(day) ?? { hours, found: null, left: null };
    visit[state] = gapMm;
    visits.set(day, visit);
  }
  const inOrder = [...visits.values()].sort((a, b) => a.hours - b.hours);
  return inOrder.slice(1).flatMap((to, k) => {
    const from = inOrder[k]!;
    const { group } = pieceAt(life, (from.hours + to.hours) / 2);
    const tolerance = tolerances.find(({ standard }) => standard === group.standard);
    if (tolerance === undefined || !(to.hours > from.hours)) return [];
    return {
      component,
      environment: placeOf(labels, JSON.stringify([group.environment, group.standard])),
      fromHours: from.hours,
      toHours: to.hours,
      gapLeftMm: from.left ?? from.found,
      gapFoundMm: to.found,
      toleranceMm: [tolerance.lowMm, tolerance.highMm],
    };
  });
}

function placeOf(labels: string[], label: string): number {
  if (!labels.includes(label)) labels.push(label);
  return labels.indexOf(label);
}

function readingsOf(
  lives: readonly WholeLife[],
  aircraft: Int32Array,
  labels: readonly string[],
): SealReadings {
  const rows = lives.flatMap(({ pieces }, component) =>
    pieces.flatMap(({ readingHours, readingWearMm }) =>
      readingHours.map((hours, k) => ({ component, hours, wearMm: readingWearMm[k]! })),
    ),
  );
  return {
    rows: rows.length,
    component: Int32Array.from(rows, ({ component }) => component),
    aircraft: Int32Array.from(rows, ({ component }) => aircraft[component]!),
    hours: Float64Array.from(rows, ({ hours }) => hours),
    wearMm: Float64Array.from(rows, ({ wearMm }) => wearMm),
    environments: labels,
  };
}
