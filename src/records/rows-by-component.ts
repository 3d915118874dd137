/**
 * Row numbers of an export gathered by component, in order of day, then hours, then row: one counting sort by
 * component, then each component's few rows sorted among themselves.
 */
export interface RowsByComponent {
  /** Rows of component c are order[start[c]] … order[start[c + 1] − 1]. */
  readonly start: Int32Array;
  readonly order: Int32Array;
}

/**
 * @param component  component number of each row; rows with -1 are left out
 * @param day        day of each row
 * @param hours      tie-break within a day; NaN sorts last
 * @param include    rows to take
 */
export function rowsByComponent(
  components: number,
  component: Int32Array,
  day: Int32Array,
  hours: Float64Array,
  include: (row: number) => boolean,
): RowsByComponent {
  const start = new Int32Array(components + 1);
  const taken = new Uint8Array(component.length);
  for (let row = 0; row < component.length; row++) {
    const c = component[row]!;
    if (c < 0 || !include(row)) continue;
    taken[row] = 1;
    start[c + 1]!++;
  }
  for (let c = 0; c < components; c++) start[c + 1]! += start[c]!;
  const next = start.slice(0, components);
  const order = new Int32Array(start[components]!);
  for (let row = 0; row < component.length; row++) {
    if (taken[row] === 1) order[next[component[row]!]!++] = row;
  }
  const hoursOf = (row: number) => (Number.isNaN(hours[row]!) ? Number.POSITIVE_INFINITY : hours[row]!);
  const byTime = (a: number, b: number) =>
    day[a]! - day[b]! || (hoursOf(a) < hoursOf(b) ? -1 : hoursOf(a) > hoursOf(b) ? 1 : a - b);
  for (let c = 0; c < components; c++) order.subarray(start[c]!, start[c + 1]!).sort(byTime);
  return { start, order };
}
