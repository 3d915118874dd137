/** Random life tables across what the fits must stand: shape 0.3-20, 1-99 % censoring, hours from 1e-3 to 1e7. */
import type { Random } from "../../src/math/random.ts";
import { type LifeRow, type LifeTable, lifeTable } from "../../src/records/life-table.ts";

export function randomLives(random: Random, mostLives: number): LifeTable {
  const lives = 1 + Math.floor(mostLives ** random.uniform());
  const shape = 0.3 * (20 / 0.3) ** random.uniform();
  const scale = 1e-3 * 1e10 ** random.uniform();
  const censored = 0.01 + 0.98 * random.uniform();
  const cut = scale * (-Math.log(censored)) ** (1 / shape);
  const lateShare = random.uniform() < 0.3 ? random.uniform() : 0;
  const look = random.uniform() < 0.5 ? 0 : cut * (0.05 + random.uniform());
  const rows = Array.from({ length: lives }, () => oneLife(random, { shape, scale, cut, lateShare, look }));
  return lifeTable(rows.filter((row): row is LifeRow => row !== null));
}

function oneLife(
  random: Random,
  truth: { shape: number; scale: number; cut: number; lateShare: number; look: number },
): LifeRow | null {
  const entryHours = random.uniform() < truth.lateShare ? random.uniform() * truth.cut * 0.8 : 0;
  // Beyond entry, so that the life is one that could be seen.
  const already = (entryHours / truth.scale) ** truth.shape;
  const hours = truth.scale * (already + random.exponential()) ** (1 / truth.shape);
  const end = entryHours + (truth.cut - entryHours) * (0.5 + 0.5 * random.uniform());
  if (!(hours > entryHours && hours > 0)) return null;
  if (hours > end) return { entryHours, lowerHours: end, upperHours: Number.POSITIVE_INFINITY };
  if (truth.look === 0) return { entryHours, lowerHours: hours, upperHours: hours };
  const lowerHours = Math.max(entryHours, Math.floor(hours / truth.look) * truth.look);
  return {
    entryHours,
    lowerHours,
    upperHours: Math.max(hours, (Math.floor(hours / truth.look) + 1) * truth.look),
  };
}
