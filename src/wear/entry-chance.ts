/**
 * The chance that a component drawn from the rates is still below the limit at its entry look, with derivatives.
 *
 * ∫ f(b) Φ((R − a − b·L)/ω) db, averaged over whichever of rates and scatter is the narrower, so that what is averaged
 * is smooth on that scale and a few quadrature points are enough.
 */
import { normalQuadrature } from "../math/gauss-hermite.ts";
import { tabulatedNormalCdf } from "../math/tabulated-normal.ts";
import type { RateFamily } from "./rate-families.ts";

const ENTRY_POINTS = 7;
const rule = normalQuadrature(ENTRY_POINTS);
const ROOT_2PI = Math.sqrt(2 * Math.PI);
/** Beyond so many standard deviations Φ is 1 and its density nothing, to the last digit. */
const CERTAIN = 8.3;

/** The chance, and its derivatives by the room R − a, by ω, and by the rates' location and spread. */
export interface EntryChance {
  below: number;
  byRoom: number;
  byOmega: number;
  byLocation: number;
  bySpread: number;
}

/** The chance at `hours` (thousands) and their logarithm, written into `out`. */
export type EntryChances = (hours: number, logHours: number, out: EntryChance) => void;

/** What a chance depends on besides the hours: rates in mm per 1000 h, the room R − a, ω. */
interface Setting {
  readonly location: number;
  readonly signedSpread: number;
  readonly roomMm: number;
  readonly omegaMm: number;
  /** Whether the derivatives are wanted too: without them it is half the work, and they come out as zeros. */
  readonly derivatives: boolean;
}

/** The chance as a function of the hours: what doesn't depend on them is computed once. */
export function entryChances(
  family: RateFamily,
  location: number,
  signedSpread: number,
  roomMm: number,
  omegaMm: number,
  derivatives: boolean,
): EntryChances {
  const setting = { location, signedSpread, roomMm, omegaMm, derivatives };
  const spread = rateSpread(family, location, signedSpread);
  const overRates = chanceOverRates(family, setting);
  const overScatter = family === "lognormal" ? lognormalOverScatter(setting) : normalOverScatter(setting);
  return (hours, logHours, out) => {
    out.below = out.byRoom = out.byOmega = out.byLocation = out.bySpread = 0;
    if (spread * hours < omegaMm) overRates(hours, logHours, out);
    else overScatter(hours, logHours, out);
  };
}

/** Spread of the rates in mm per 1000 h, roughly; infinite where normal rates are cut at zero. */
function rateSpread(family: RateFamily, location: number, signedSpread: number): number {
  const spread = Math.abs(signedSpread);
  if (family === "lognormal") return Math.exp(location) * spread;
  return location > 8 * spread ? spread : Number.POSITIVE_INFINITY;
}

const density = (z: number): number => Math.exp(-0.5 * z * z) / ROOT_2PI;

/** Averaged over the rates: where they differ less than readings scatter. */
function chanceOverRates(family: RateFamily, setting: Setting): EntryChances {
  const { nodes, weights } = rule;
  const { location, signedSpread, roomMm, omegaMm, derivatives } = setting;
  const lognormal = family === "lognormal";
  const exponents = nodes.map((z) => location + signedSpread * z);
  const rates = lognormal ? exponents.map((exponent) => Math.exp(exponent)) : exponents;
  return (hours, _, out) => {
    for (let k = 0; k < ENTRY_POINTS; k++) {
      const rate = rates[k]!;
      const t = (roomMm - rate * hours) / omegaMm;
      out.below += weights[k]! * tabulatedNormalCdf(t);
      if (!derivatives) continue;
      const phi = (weights[k]! * density(t)) / omegaMm;
      const byExponent = -phi * hours * (lognormal ? rate : 1);
      out.byRoom += phi;
      out.byOmega -= phi * t;
      out.byLocation += byExponent;
      out.bySpread += byExponent * nodes[k]!;
    }
  };
}

/** Averaged over the scatter: where it is narrower than the rates' spread. Lognormal rates. */
function lognormalOverScatter({
  location,
  signedSpread,
  roomMm,
  omegaMm,
  derivatives,
}: Setting): EntryChances {
  const { nodes, weights } = rule;
  const s = Math.max(Math.abs(signedSpread), 1e-9);
  const sign = signedSpread < 0 ? -1 : 1;
  const reach = nodes.map((node) => roomMm - omegaMm * node);
  const standard = reach.map((value) => (value > 0 ? (Math.log(value) - location) / s : Number.NaN));
  // NaN where scatter can use up the room.
  const least = standard.reduce((lowest, value) => Math.min(lowest, value), Number.POSITIVE_INFINITY);
  return (_, logHours, out) => {
    if (least - logHours / s > CERTAIN) {
      out.below = 1;
      return;
    }
    for (let k = 0; k < ENTRY_POINTS; k++) {
      if (!(reach[k]! > 0)) continue;
      const z = standard[k]! - logHours / s;
      out.below += weights[k]! * tabulatedNormalCdf(z);
      if (!derivatives || z > CERTAIN) continue;
      const phi = (weights[k]! * density(z)) / s;
      // A rate is reach/hours, and the density of rates has 1/rate in it.
      const byReach = phi / reach[k]!;
      out.byRoom += byReach;
      out.byOmega -= nodes[k]! * byReach;
      out.byLocation -= phi;
      out.bySpread -= sign * phi * z;
    }
  };
}

/** The same for normal rates given above zero. */
function normalOverScatter({ location, signedSpread, roomMm, omegaMm, derivatives }: Setting): EntryChances {
  const { nodes, weights } = rule;
  const s = Math.max(Math.abs(signedSpread), 1e-9);
  const sign = signedSpread < 0 ? -1 : 1;
  const reach = nodes.map((node) => roomMm - omegaMm * node);
  const k0 = location / s;
  const whole = tabulatedNormalCdf(k0);
  const phiPrior = density(k0) / s / whole;
  return (hours, _, out) => {
    for (let k = 0; k < ENTRY_POINTS; k++) {
      if (!(reach[k]! > 0)) continue;
      const z = (reach[k]! / hours - location) / s;
      if (z > CERTAIN) {
        out.below += weights[k]!;
        continue;
      }
      const above = tabulatedNormalCdf(-z) / whole;
      out.below += weights[k]! * (1 - above);
      if (!derivatives) continue;
      const phi = density(z) / s / whole;
      const byReach = (weights[k]! * phi) / hours;
      out.byRoom += byReach;
      out.byOmega -= nodes[k]! * byReach;
      out.byLocation += weights[k]! * (above * phiPrior - phi);
      out.bySpread -= sign * weights[k]! * (phi * z + above * phiPrior * k0);
    }
  };
}
