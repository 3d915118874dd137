/** The chance that a reading is below a limit as a curve over hours, for normal rates given above zero. */
import { normalQuadrature } from "../math/gauss-hermite.ts";
import { normalCdfInSums, tabulatedNormalCdf } from "../math/tabulated-normal.ts";

/** Rates b ~ N(location, spread²) given b > 0; readings about b·hours/1000, roomMm below the limit at no hours. */
export interface NormalWear {
  readonly location: number;
  readonly spread: number;
  readonly roomMm: number;
  /** Standard deviation of a reading about its line. */
  readonly omegaMm: number;
}

const SCATTER_POINTS = 15;
/** So many standard deviations of scatter never use up the room. */
const FAR = 6.5;

/**
 * The curve over thousands of hours above 0. Where the scatter alone doesn't reach the limit, rate and scatter add up to one normal
 * distribution; else an average over points of the scatter, of those at which it doesn't.
 */
export function normalBelow({
  location,
  spread,
  roomMm,
  omegaMm,
}: NormalWear): (thousandHours: number) => number {
  const positive = tabulatedNormalCdf(location / spread);
  if (roomMm >= FAR * omegaMm) {
    return (h) =>
      1 -
      normalCdfInSums((location * h - roomMm) / Math.sqrt(spread * spread * h * h + omegaMm * omegaMm)) /
        positive;
  }
  const { nodes, weights } = normalQuadrature(SCATTER_POINTS);
  const reach = nodes.map((node) => roomMm - omegaMm * node);
  return (h) => {
    let sum = 0;
    for (let k = 0; k < SCATTER_POINTS; k++) {
      if (!(reach[k]! > 0)) continue;
      sum += weights[k]! * (1 - normalCdfInSums((location - reach[k]! / h) / spread) / positive);
    }
    return sum;
  };
}
