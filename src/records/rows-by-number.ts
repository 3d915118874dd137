/**
 * Row numbers of an export gathered by component (or by another number), in order of day, then hours, then row: one
 * counting sort by the number, then each one's few rows sorted among themselves.
 */
export interface RowsByNumber {
  /** Rows of number c are order[start[c]] … order[start[c + 1] − 1]. */
  readonly start: Int32Array;
  readonly order: Int32Array;
}

/**
 * @param count    numbers go from 0 to below this
 * @param number   number of each row; rows with -1 are left out
 * @param day      day of each row
 * @param hours    tie-break within a day; NaN sorts last; null: none
 * @param include  rows to take. __Default value:__ all
 */
export function rowsByNumber(
  count: number,
  number: Int32Array | Int16Array,
  day: Int32Array,
  hours: Float64Array | null,
  include: (row: number) => boolean = () => true,
): RowsByNumber {
  const start = new Int32Array(count + 1);
  const taken = new Uint8Array(number.length);
  for (let row = 0; row < number.length; row++) {
    const c = number[row]!;
    if (c < 0 || !include(row)) continue;
    taken[row] = 1;
    start[c + 1]!++;
  }
  for (let c = 0; c < count; c++) start[c + 1]! += start[c]!;
  const next = start.slice(0, count);
  const order = new Int32Array(start[count]!);
  for (let row = 0; row < number.length; row++) {
    if (taken[row] === 1) order[next[number[row]!]!++] = row;
  }
  for (let c = 0; c < count; c++) sortRows(order, start[c]!, start[c + 1]!, day, hours);
  return { start, order };
}

/** Exports are nearly in order of time, and a component has few rows: each row goes back past those that come after it. */
function sortRows(
  order: Int32Array,
  start: number,
  end: number,
  day: Int32Array,
  hours: Float64Array | null,
) {
  let moves = 0;
  for (let i = start + 1; i < end; i++) {
    const row = order[i]!;
    let to = i;
    for (; to > start && isAfter(order[to - 1]!, row, day, hours); to--) order[to] = order[to - 1]!;
    order[to] = row;
    moves += i - to;
    if (moves > MOST_MOVES) {
      order
        .subarray(start, end)
        .sort((a, b) => (isAfter(a, b, day, hours) ? 1 : isAfter(b, a, day, hours) ? -1 : a - b));
      return;
    }
  }
}

/** Past this many, the rows are in no order to speak of. */
const MOST_MOVES = 10_000;

function isAfter(a: number, b: number, day: Int32Array, hours: Float64Array | null): boolean {
  if (day[a] !== day[b]) return day[a]! > day[b]!;
  if (hours === null) return false;
  const before = Number.isNaN(hours[a]!) ? Number.POSITIVE_INFINITY : hours[a]!;
  const after = Number.isNaN(hours[b]!) ? Number.POSITIVE_INFINITY : hours[b]!;
  return before > after;
}
