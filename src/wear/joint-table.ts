/** What the joint model is fitted to: readings with hours by environment, and the places where rates are told apart. */

/** Readings with the hours flown in each environment up to each. */
export interface JointTable {
  readonly rows: number;
  readonly component: Int32Array;
  readonly aircraft: Int32Array;
  readonly standard: Int32Array;
  /** One column per environment: flight hours on the component's clock flown there, up to the reading. */
  readonly hoursIn: readonly Float64Array[];
  readonly wearMm: Float64Array;
  readonly environments: readonly string[];
  readonly standards: readonly string[];
}

export interface Cell {
  readonly environment: number;
  readonly standard: number;
  readonly hours: number;
}

/** Environment × standard pairs with hours, by environment and then standard; hours to each component's last reading. */
export function cellsOf(table: JointTable): Cell[] {
  const { environments, standards, hoursIn } = table;
  const flown = new Float64Array(table.rows);
  for (const column of hoursIn) for (let row = 0; row < table.rows; row++) flown[row]! += column[row]!;
  const last = new Map<number, number>();
  for (let row = 0; row < table.rows; row++) {
    const key = table.component[row]! * standards.length + table.standard[row]!;
    const known = last.get(key);
    if (known === undefined || flown[row]! > flown[known]!) last.set(key, row);
  }
  const hours = new Float64Array(environments.length * standards.length);
  for (const row of last.values()) {
    for (const [environment, column] of hoursIn.entries())
      hours[environment * standards.length + table.standard[row]!]! += column[row]!;
  }
  return Array.from(hours, (sum, k) => ({
    environment: Math.floor(k / standards.length),
    standard: k % standards.length,
    hours: sum,
  })).filter((cell) => cell.hours > 0);
}
