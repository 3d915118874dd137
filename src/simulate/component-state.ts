/** One simulated component: what it is, how far it has worn, and how wear goes on with hours. */
import { power } from "../math/power.ts";
import type { Random } from "../math/random.ts";
import type { PartSettings } from "./settings.ts";

export interface ComponentState {
  readonly component: number;
  readonly madeInMonth: number;
  readonly newWearMm: number;
  /** Its own standard normal draw for the rate. */
  readonly ownEffect: number;
  /** Factor on its rate that comes with it: bad batch, fast half of a bimodal spread. */
  readonly factor: number;
  readonly badBatch: boolean;
  /** Linear wear (mm past new) at which the function is lost; infinite: never. */
  readonly failsAtLinearMm: number;
  hours: number;
  /** Wear past new that a straight line would show; the shape exponent bends it (see `wearMm`). */
  linearMm: number;
  /** The present true rate, mm per flight hour, with the seal in tolerance. */
  ratePerHour: number;
  lastLookHours: number;
  lastReadMm: number;
  dueHours: number;
  /** How late the next look is, as a share of the interval, and the interval that `dueHours` counts with. */
  lateShare: number;
  dueIntervalHours: number;
}

export interface SealState {
  gapMm: number;
  driftPerHour: number;
  readonly toleranceMm: number;
  /** Factor on the wear rate with the gap out of tolerance, where the aircraft now flies. */
  wearFactor: number;
}

/** A new component with its own rate, play and failing point. */
export function newComponent(
  part: PartSettings,
  component: number,
  month: number,
  random: Random,
): ComponentState {
  const newWearMm = Math.max(0, part.newWearMm + part.newWearSdMm * random.normal());
  const { batch, spread } = part;
  const inBatch = batch !== null && month >= batch.fromMonth && month < batch.untilMonth;
  const badBatch = inBatch && random.uniform() < batch.share;
  const fast = spread.kind === "bimodal" && random.uniform() < spread.fastShare;
  const margin = part.failureMarginMm === 0 ? 0 : part.failureMarginMm * random.exponential();
  return {
    component,
    madeInMonth: month,
    newWearMm,
    ownEffect: random.normal(),
    factor: (badBatch ? batch!.factor : 1) * (fast ? spread.fastFactor : 1),
    badBatch,
    failsAtLinearMm:
      part.unsafeAtMm === null
        ? Number.POSITIVE_INFINITY
        : linearAt(part, newWearMm, part.unsafeAtMm + margin),
    hours: 0,
    linearMm: 0,
    ratePerHour: 0,
    lastLookHours: 0,
    lastReadMm: newWearMm,
    dueHours: 0,
    lateShare: 0,
    dueIntervalHours: 0,
  };
}

/** True wear: new + span·(linear/span)^exponent, span = limit − new, so that every shape meets the limit together. */
export function wearMm(part: PartSettings, state: ComponentState): number {
  if (part.shapeExponent === 1) return state.newWearMm + state.linearMm;
  const span = part.replaceAtMm - state.newWearMm;
  return state.newWearMm + span * power(state.linearMm / span, part.shapeExponent);
}

function linearAt(part: PartSettings, newWearMm: number, atMm: number): number {
  const span = part.replaceAtMm - newWearMm;
  return span * power((atMm - newWearMm) / span, 1 / part.shapeExponent);
}

/**
 * Fly up to `hours` with this component behind this seal; stops at the hour at which the function is lost.
 * Past the limit wear goes `beyondLimitFactor` times as fast. Returns the hours flown, the linear wear that they
 * would have made below the limit, and whether the function was lost.
 */
export function fly(
  part: PartSettings,
  state: ComponentState,
  seal: SealState | null,
  hours: number,
): { hours: number; wearMm: number; failed: boolean } {
  const rate = state.ratePerHour * sealFactor(seal, hours);
  const spanMm = part.replaceAtMm - state.newWearMm;
  const below = Math.max(0, spanMm - state.linearMm);
  const needed = Math.max(0, state.failsAtLinearMm - Math.max(state.linearMm, spanMm));
  const hoursToFailure = (below + needed / part.beyondLimitFactor) / rate;
  const failed = hoursToFailure <= hours;
  const flown = failed ? hoursToFailure : hours;
  const madeMm = rate * flown;
  state.linearMm += madeMm <= below ? madeMm : below + (madeMm - below) * part.beyondLimitFactor;
  state.hours += flown;
  if (seal !== null) seal.gapMm += seal.driftPerHour * flown;
  return { hours: flown, wearMm: madeMm, failed };
}

/** Mean factor on the rate over the next hours: 1 while the gap is in tolerance, `wearFactor` after. */
function sealFactor(seal: SealState | null, hours: number): number {
  if (seal === null) return 1;
  const inHours = Math.min(hours, Math.max(0, (seal.toleranceMm - seal.gapMm) / seal.driftPerHour));
  return (inHours + (hours - inHours) * seal.wearFactor) / hours;
}

/** A seal just set. */
export function newSeal(
  part: PartSettings,
  environment: string,
  standard: string,
  random: Random,
): SealState | null {
  const { seal } = part;
  if (seal === null) return null;
  const toleranceMm = seal.toleranceMm[standard];
  if (toleranceMm === undefined) return null;
  return {
    toleranceMm,
    wearFactor: seal.wearFactor[environment] ?? 1,
    gapMm: Math.max(0, seal.setGapMm + seal.setScatterMm * random.normal()),
    driftPerHour: (seal.driftMmPer1000h / 1000) * Math.exp(seal.driftLogSd * random.normal()),
  };
}

/** The true rate of a component on an aircraft, mm per flight hour. */
export function trueRatePerHour(
  part: PartSettings,
  state: ComponentState,
  rate: { readonly medianMmPer1000h: number; readonly logSd: number },
  aircraftEffect: number,
): number {
  const shared = part.aircraftCorrelation;
  const effect = Math.sqrt(shared) * aircraftEffect + Math.sqrt(1 - shared) * state.ownEffect;
  const relative =
    part.spread.kind === "normal" ? Math.max(0.05, 1 + rate.logSd * effect) : Math.exp(rate.logSd * effect);
  return (rate.medianMmPer1000h / 1000) * relative * state.factor;
}
