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

/** The chance, and its derivatives by the room R − a, by ω, and by the rates' location and spread. */
export interface EntryChance {
  below: number;
  byRoom: number;
  byOmega: number;
  byLocation: number;
  bySpread: number;
}

const entryChance: EntryChance = { below: 0, byRoom: 0, byOmega: 0, byLocation: 0, bySpread: 0 };

/**
 * The chance at `hours` (thousands) for rates in mm per 1000 h. The object returned is reused by the next call.
 */
export function chanceAtEntry(
  family: RateFamily,
  location: number,
  spread: number,
  hours: number,
  roomMm: number,
  omegaMm: number,
): Readonly<EntryChance> {
  const narrow = rateSpread(family, location, spread) * hours < omegaMm;
  const over = narrow ? chanceOverRates : chanceOverScatter;
  const out = entryChance;
  out.below = out.byRoom = out.byOmega = out.byLocation = out.bySpread = 0;
  over(family, location, spread, hours, roomMm, omegaMm, out);
  return out;
}

/**
 * The chance alone, as a function of hours (thousands) and their logarithm: what doesn't depend on them is computed once.
 */
export function entryChances(
  family: RateFamily,
  location: number,
  signedSpread: number,
  roomMm: number,
  omegaMm: number,
): (hours: number, logHours: number) => number {
  const { nodes, weights } = rule;
  const s = Math.max(Math.abs(signedSpread), 1e-9);
  const widest = rateSpread(family, location, signedSpread);
  const reach = nodes.map((node) => roomMm - omegaMm * node);
  const standard = reach.map((value) => (value > 0 ? (Math.log(value) - location) / s : Number.NaN));
  const whole = tabulatedNormalCdf(location / s);
  return (hours, logHours) => {
    if (widest * hours < omegaMm) {
      return chanceAtEntry(family, location, signedSpread, hours, roomMm, omegaMm).below;
    }
    let below = 0;
    for (let k = 0; k < ENTRY_POINTS; k++) {
      if (!(reach[k]! > 0)) continue;
      below +=
        weights[k]! *
        (family === "lognormal"
          ? tabulatedNormalCdf(standard[k]! - logHours / s)
          : 1 - tabulatedNormalCdf((location - reach[k]! / hours) / s) / whole);
    }
    return below;
  };
}

type ChanceAtEntry = (
  family: RateFamily,
  location: number,
  spread: number,
  hours: number,
  room: number,
  omega: number,
  out: EntryChance,
) => void;

/** Spread of the rates in mm per 1000 h, roughly; infinite where normal rates are cut at zero. */
function rateSpread(family: RateFamily, location: number, signedSpread: number): number {
  const spread = Math.abs(signedSpread);
  if (family === "lognormal") return Math.exp(location) * spread;
  return location > 8 * spread ? spread : Number.POSITIVE_INFINITY;
}

/** F(c), f(c) and dF/d location, dF/d spread at a rate c > 0. */
interface RateAt {
  below: number;
  density: number;
  byLocation: number;
  bySpread: number;
}

const rateAt: RateAt = { below: 0, density: 0, byLocation: 0, bySpread: 0 };

/** Averaged over the rates: where they differ less than readings scatter. */
const chanceOverRates: ChanceAtEntry = (family, location, spread, hours, room, omega, out) => {
  const { nodes, weights } = rule;
  for (let k = 0; k < ENTRY_POINTS; k++) {
    const z = nodes[k]!;
    const exponent = location + spread * z;
    const rate = family === "lognormal" ? Math.exp(exponent) : exponent;
    const t = (room - rate * hours) / omega;
    const phi = (weights[k]! * density(t)) / omega;
    const byExponent = -phi * hours * (family === "lognormal" ? rate : 1);
    out.below += weights[k]! * tabulatedNormalCdf(t);
    out.byRoom += phi;
    out.byOmega -= phi * t;
    out.byLocation += byExponent;
    out.bySpread += byExponent * z;
  }
};

/** Averaged over the scatter: where it is narrower than the rates' spread. */
const chanceOverScatter: ChanceAtEntry = (family, location, spread, hours, room, omega, out) => {
  const { nodes, weights } = rule;
  const entry = family === "lognormal" ? lognormalEntry : normalEntry;
  for (let k = 0; k < ENTRY_POINTS; k++) {
    const rate = (room - omega * nodes[k]!) / hours;
    if (!(rate > 0)) continue;
    const weight = weights[k]!;
    entry(rate, location, spread, rateAt);
    out.below += weight * rateAt.below;
    out.byRoom += (weight * rateAt.density) / hours;
    out.byOmega -= (weight * nodes[k]! * rateAt.density) / hours;
    out.byLocation += weight * rateAt.byLocation;
    out.bySpread += weight * rateAt.bySpread;
  }
};

const density = (z: number): number => Math.exp(-0.5 * z * z) / ROOT_2PI;

function lognormalEntry(rate: number, location: number, signedSpread: number, out: RateAt): void {
  const s = Math.max(Math.abs(signedSpread), 1e-9);
  const z = (Math.log(rate) - location) / s;
  const phi = density(z) / s;
  out.below = tabulatedNormalCdf(z);
  out.density = phi / rate;
  out.byLocation = -phi;
  out.bySpread = signedSpread < 0 ? phi * z : -phi * z;
}

function normalEntry(rate: number, location: number, signedSpread: number, out: RateAt): void {
  const s = Math.max(Math.abs(signedSpread), 1e-9);
  const z = (rate - location) / s;
  const k = location / s;
  const whole = tabulatedNormalCdf(k);
  const above = tabulatedNormalCdf(-z) / whole;
  const phi = density(z) / s / whole;
  const phiPrior = density(k) / s / whole;
  out.below = 1 - above;
  out.density = phi;
  out.byLocation = -phi + above * phiPrior;
  const bySpread = -phi * z - above * phiPrior * k;
  out.bySpread = signedSpread < 0 ? -bySpread : bySpread;
}
