/** Lives drawn from a known Weibull as an inspected fleet would see them, alike within aircraft as asked. */
import { standardNormalCdf } from "../../src/math/distributions.ts";
import type { Random } from "../../src/math/random.ts";
import { type LifeRow, type LifeTable, lifeTable } from "../../src/records/life-table.ts";

export interface SimulatedFleet {
  readonly shape: number;
  readonly scaleHours: number;
  readonly aircraft: number;
  readonly perAircraft: number;
  /** Correlation of the lives' normal scores within an aircraft. */
  readonly alike: number;
  /** Hours between looks; 0: events are exact. */
  readonly lookHours: number;
  /** Every life is followed to this many hours at most, each to a random part of it from half up. */
  readonly followedHours: number;
}

export function simulatedLives(fleet: SimulatedFleet, random: Random): LifeTable {
  const rows: LifeRow[] = [];
  for (let aircraft = 0; aircraft < fleet.aircraft; aircraft++) {
    const shared = random.normal();
    for (let k = 0; k < fleet.perAircraft; k++) {
      const score = Math.sqrt(fleet.alike) * shared + Math.sqrt(1 - fleet.alike) * random.normal();
      const hours = fleet.scaleHours * (-Math.log(standardNormalCdf(-score))) ** (1 / fleet.shape);
      const end = fleet.followedHours * (0.5 + 0.5 * random.uniform());
      rows.push({ ...seen(hours, end, fleet.lookHours), cluster: aircraft });
    }
  }
  return lifeTable(rows);
}

function seen(hours: number, end: number, lookHours: number): LifeRow {
  const running = Number.POSITIVE_INFINITY;
  if (lookHours === 0) {
    return hours > end ? { lowerHours: end, upperHours: running } : { lowerHours: hours, upperHours: hours };
  }
  const lastLook = Math.floor(end / lookHours) * lookHours;
  if (hours > lastLook) return { lowerHours: lastLook, upperHours: running };
  const found = Math.ceil(hours / lookHours) * lookHours;
  return { lowerHours: found - lookHours, upperHours: found };
}
