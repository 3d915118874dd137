/** Which looks "act now" judges a component by, and whether it is fitted by the records. */
import type { Fleet } from "../fleet/fleet.ts";
import { LOOK, NO_DAY, type ReadExports, type WearRows } from "../records/exports.ts";
import { addMonths, type Day } from "../units.ts";

/** A row of a wear table that says something: a number, or a known word. */
export interface LookRow {
  readonly table: WearRows;
  readonly row: number;
  /** The row was rejected, and no life is made from it; what it says is judged all the same. */
  readonly isRejected: boolean;
}

/** What the rows say of one component on the as-of day. */
export interface ComponentState {
  /** Row of the latest accepted look, even one whose word nobody knows: it was made. -1 without one. */
  readonly lastLook: number;
  readonly fitted: boolean;
  /** The worst look of each day in the last month, and of the latest day with any; by day. */
  readonly looks: readonly LookRow[];
}

/** States by component; null where no row up to the as-of day names it. */
export function componentStates(
  fleet: Fleet,
  exports: ReadExports,
  asOf: Day,
): (component: number) => ComponentState | null {
  const { wear, removals, installed, components } = exports;
  const { lastRow, looksOf } = latestLooks(fleet, exports, asOf);
  const lastRemoved = latestDays(components.count, removals?.component, removals?.day, asOf);
  // A component fitted and never looked at has a look overdue all the same.
  const lastFitted = latestDays(components.count, installed?.component, installed?.installedOn, asOf);
  return (component) => {
    const lastLook = lastRow[component]!;
    const looks = looksOf(component);
    const seen = Math.max(lastLook < 0 ? NO_DAY : wear!.day[lastLook]!, dayOf(looks.at(-1)));
    const [removed, fitted] = [lastRemoved[component]!, lastFitted[component]!];
    if (seen === NO_DAY && removed === NO_DAY && fitted === NO_DAY) return null;
    return { lastLook, fitted: removed === NO_DAY || seen > removed || fitted >= removed, looks };
  };
}

const dayOf = (look: LookRow | undefined): Day => (look === undefined ? NO_DAY : look.table.day[look.row]!);

/** The latest day up to the as-of day of each component's rows; NO_DAY without one. */
function latestDays(
  components: number,
  component: Int32Array | undefined,
  days: Int32Array | undefined,
  asOf: Day,
): Int32Array {
  const latest = new Int32Array(components).fill(NO_DAY);
  for (let row = 0; row < (days?.length ?? 0); row++) {
    const number = component![row]!;
    const day = days![row]!;
    if (number >= 0 && day <= asOf && day > latest[number]!) latest[number] = day;
  }
  return latest;
}

interface LatestLooks {
  /** Latest accepted row of each component, of one day the one with the most hours; -1 without one. */
  readonly lastRow: Int32Array;
  readonly looksOf: (component: number) => readonly LookRow[];
}

function latestLooks(fleet: Fleet, { wear, setAside, components }: ReadExports, asOf: Day): LatestLooks {
  const lastRow = new Int32Array(components.count).fill(-1);
  // The same of rows that say something, of one day the worst.
  const lastKnown = new Int32Array(components.count).fill(-1);
  const others = new Map<number, LookRow[]>();
  const worse = severity(fleet, components);
  const monthAgo = addMonths(asOf, -1);
  const keep = (look: LookRow) => {
    const component = look.table.component[look.row]!;
    const known = others.get(component);
    if (known === undefined) others.set(component, [look]);
    else known.push(look);
  };
  for (let row = 0; row < (wear?.rows ?? 0); row++) {
    const day = wear!.day[row]!;
    const component = wear!.component[row]!;
    if (day > asOf || component < 0) continue;
    const last = lastRow[component]!;
    const isLater = last < 0 || day > wear!.day[last]!;
    if (isLater || (day === wear!.day[last]! && wear!.hours[row]! >= wear!.hours[last]!))
      lastRow[component] = row;
    if (wear!.look[row] === LOOK.unknown) continue;
    const known = lastKnown[component]!;
    const isNewest = known < 0 || day > wear!.day[known]!;
    if (isNewest || (day === wear!.day[known]! && worse(wear!, row, wear!, known)))
      lastKnown[component] = row;
    if (day > monthAgo) keep({ table: wear!, row, isRejected: false });
  }
  const aside = setAside.wear;
  for (let row = 0; row < (aside?.rows ?? 0); row++) {
    if (!isReadable(aside!, row, asOf)) continue;
    keep({ table: aside!, row, isRejected: true });
  }
  const looksOf = (component: number): readonly LookRow[] => {
    const last = lastKnown[component]!;
    const looks = others.get(component) ?? [];
    if (last < 0) return worstByDay(looks, worse, monthAgo);
    if (looks.length === 0) return [{ table: wear!, row: last, isRejected: false }];
    return worstByDay([...looks, { table: wear!, row: last, isRejected: false }], worse, monthAgo);
  };
  return { lastRow, looksOf };
}

/** Whether a rejected row says of which component, when and how worn. */
const isReadable = (rows: WearRows, row: number, asOf: Day): boolean =>
  rows.component[row]! >= 0 &&
  rows.day[row] !== NO_DAY &&
  rows.day[row]! <= asOf &&
  (rows.look[row] === LOOK.number ? rows.wearMm[row]! >= 0 : rows.look[row] !== LOOK.unknown);

type IsWorse = (a: WearRows, rowA: number, b: WearRows, rowB: number) => boolean;

/** Whether one row says worse of a component than another. "Over limit" in words is at least the limit. */
function severity({ parts }: Fleet, { part }: ReadExports["components"]): IsWorse {
  const wearOf = (rows: WearRows, row: number): number => {
    if (rows.look[row] === LOOK.number) return rows.wearMm[row]!;
    return rows.look[row] === LOOK.overLimit ? parts[part[rows.component[row]!]!]!.replaceAtMm : 0;
  };
  return (a, rowA, b, rowB) => wearOf(a, rowA) > wearOf(b, rowB);
}

/** The worst look of each day, days in order; of those a month ago or earlier only the latest. */
function worstByDay(looks: readonly LookRow[], worse: IsWorse, monthAgo: Day): readonly LookRow[] {
  const byDay = new Map<Day, LookRow>();
  for (const look of looks) {
    const day = look.table.day[look.row]!;
    const known = byDay.get(day);
    if (known === undefined || worse(look.table, look.row, known.table, known.row)) byDay.set(day, look);
  }
  const days = [...byDay.keys()].sort((a, b) => a - b);
  const kept = days.filter((day, at) => day > monthAgo || at === days.length - 1);
  return kept.map((day) => byDay.get(day)!);
}
