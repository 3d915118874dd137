/**
 * One part of a fleet through its months: components wear, are looked at, come off and are replaced.
 *
 * Within a month the events of an aircraft are taken in the order of its hours; months run over the whole fleet, so
 * that a component taken off in one month can be fitted to another aircraft in a later one.
 */
import type { Random } from "../math/random.ts";
import { type ComponentState, fly, newSeal, trueRatePerHour, wearMm } from "./component-state.ts";
import type { Flying } from "./flying.ts";
import { type Written, writeLook } from "./gauge.ts";
import { Logbook } from "./logbook.ts";
import { dayOfMoment, emptySlot, intervalInForce, type Moment, monthBegins, type Slot } from "./moment.ts";
import type { InstalledRow, PartRecord, RemovalCause } from "./rows.ts";
import type { PartSettings, RateSettings } from "./settings.ts";
import { Stock } from "./stock.ts";

const HOUR_EDGE = 1e-6;
/** An overlooked look comes at least this share of the interval late. */
const OVERLOOKED_SHARE = 0.2;

/** Simulate one part on a fleet's flying; every aircraft has a stream of random numbers of its own. */
export function simulatePart(
  flying: Flying,
  part: PartSettings,
  randomOf: (aircraft: number) => Random,
): PartRecord {
  return new PartSimulation(flying, part, randomOf).run();
}

class PartSimulation {
  readonly #flying: Flying;
  readonly #part: PartSettings;
  readonly #randoms: readonly Random[];
  readonly #logbook: Logbook;
  readonly #stock: Stock;
  readonly #slots: Slot[][];
  readonly #aircraftHours: Float64Array;
  readonly #rates = new Map<string, RateSettings>();

  constructor(flying: Flying, part: PartSettings, randomOf: (aircraft: number) => Random) {
    this.#flying = flying;
    this.#part = part;
    this.#randoms = Array.from({ length: flying.aircraft }, (_, k) => randomOf(k));
    this.#logbook = new Logbook(flying, part);
    this.#stock = new Stock(part, this.#logbook);
    this.#aircraftHours = new Float64Array(flying.aircraft);
    for (const rate of part.rates) this.#rates.set(`${rate.environment}|${rate.standard}`, rate);
    this.#slots = Array.from({ length: flying.aircraft }, () => part.positions.map((_, k) => emptySlot(k)));
  }

  run(): PartRecord {
    const { aircraft, settings } = this.#flying;
    for (let k = 0; k < aircraft; k++) this.#fitAtTheBeginning(this.#monthBegins(k, 0));
    for (let month = 0; month < settings.months; month++) {
      for (let k = 0; k < aircraft; k++) {
        this.#flyMonth(this.#monthBegins(k, month));
      }
    }
    const { looks, gaps, removals, components } = this.#logbook;
    const { part } = this.#part;
    const installed = this.#roster();
    return { part, looks, gaps, removals, installed, components, groups: this.#logbook.groups() };
  }

  #monthBegins(aircraft: number, month: number): Moment {
    const hoursBefore = this.#aircraftHours[aircraft]!;
    return monthBegins(this.#flying, aircraft, month, hoursBefore, this.#randoms[aircraft]!);
  }

  // Components come and go.

  #fitAtTheBeginning(moment: Moment): void {
    for (const slot of this.#slots[moment.aircraft]!) {
      this.#fit(moment, slot, this.#stock.make(moment.month, moment.random));
      // Random phase: somewhere in its first interval, not yet looked at.
      const hours = moment.random.uniform() * slot.component.dueIntervalHours;
      fly(this.#part, slot.component, slot.seal, Math.max(hours, 0.1));
      slot.fittedHours = slot.component.hours;
    }
  }

  #fit(moment: Moment, slot: Slot, component: ComponentState): void {
    const { conveniencePer1000h, sealLeakPer1000h } = this.#part.removals;
    const now = moment.hoursBefore + moment.flown;
    slot.component = component;
    slot.fittedDay = dayOfMoment(this.#flying, moment);
    slot.fittedHours = component.hours;
    slot.convenienceAt = now + waitHours(conveniencePer1000h, moment.random);
    slot.leakAt = now + waitHours(sealLeakPer1000h, moment.random);
    this.#setSeal(moment, slot);
    this.#settle(moment, slot);
    this.#planLook(moment, slot, component.dueIntervalHours === 0);
  }

  /** Wear at the rate of this place. */
  #settle(moment: Moment, { component, seal }: Slot): void {
    const rate = this.#rates.get(`${moment.environment}|${moment.standard}`);
    if (rate === undefined) {
      throw new Error(`${this.#part.part}: no wear rate for ${moment.environment}, ${moment.standard}`);
    }
    if (seal !== null) seal.wearFactor = this.#part.seal?.wearFactor[moment.environment] ?? 1;
    const effect = this.#flying.effect[moment.aircraft]!;
    component.ratePerHour = trueRatePerHour(this.#part, component, rate, effect);
  }

  /** When the next look falls due; `afterLook` draws anew how late it will be. */
  #planLook(moment: Moment, { component }: Slot, afterLook: boolean): void {
    const { earlyShare, lateShare, overlookedShare } = this.#part.looks;
    const { random } = moment;
    if (afterLook) {
      component.lateShare = -earlyShare + random.uniform() * (earlyShare + lateShare);
      const overlooked = overlookedShare > 0 && random.uniform() < overlookedShare;
      if (overlooked) component.lateShare = OVERLOOKED_SHARE + 0.5 * random.uniform();
    }
    component.dueIntervalHours = intervalInForce(this.#part.intervals, moment);
    component.dueHours = component.lastLookHours + component.dueIntervalHours * (1 + component.lateShare);
  }

  #remove(moment: Moment, slot: Slot, cause: RemovalCause, foundAt: "inspection" | "service"): void {
    const functionalFailure = cause === "wear" && foundAt === "service";
    this.#logbook.removal(moment, slot, cause, foundAt, functionalFailure);
    const refit = cause === "convenience" && moment.random.uniform() < this.#part.removals.refitChance;
    if (refit) this.#stock.putOnShelf(slot.component, moment);
    this.#fit(moment, slot, this.#stock.replacement(moment));
  }

  // A month of one aircraft.

  #flyMonth(moment: Moment): void {
    const slots = this.#slots[moment.aircraft]!;
    if (this.#flying.retrofitMonth[moment.aircraft] === moment.month && moment.month > 0) {
      this.#fitLaterRings(moment, slots);
    }
    for (const slot of slots) {
      this.#settle(moment, slot);
      const interval = intervalInForce(this.#part.intervals, moment);
      if (interval !== slot.component.dueIntervalHours) this.#planLook(moment, slot, false);
    }
    while (this.#flyToNextEvent(moment, slots)) this.#attend(moment, slots);
    this.#aircraftHours[moment.aircraft] = moment.hoursBefore + moment.monthHours;
  }

  /** The head is open: every arm is looked at, gets its new ring, and perhaps a new component. */
  #fitLaterRings(moment: Moment, slots: readonly Slot[]): void {
    const { settings, standard, standards, retrofitOf } = this.#flying;
    const later = moment.standard;
    moment.standard = standards[standard[moment.aircraft * settings.months + moment.month - 1]!]!;
    for (const slot of slots) {
      const fitted = slot.component;
      this.#look(moment, slot);
      const share = retrofitOf[moment.aircraft]?.newComponentShare ?? 0;
      if (slot.component === fitted && moment.random.uniform() < share) {
        this.#remove(moment, slot, "modification", "inspection");
      }
    }
    moment.standard = later;
    for (const slot of slots) this.#setSeal(moment, slot);
  }

  /** Fly every arm to the next event; false when the month is over. Functional failures happen on the way. */
  #flyToNextEvent(moment: Moment, slots: readonly Slot[]): boolean {
    let until = moment.monthHours;
    for (const slot of slots) until = Math.min(until, this.#nextEvent(moment, slot));
    until = Math.max(until, moment.flown);
    const from = moment.flown;
    for (const slot of slots) {
      moment.flown = from;
      while (until - moment.flown > HOUR_EDGE) {
        const leg = fly(this.#part, slot.component, slot.seal, until - moment.flown);
        moment.flown += leg.hours;
        this.#logbook.flown(moment, leg.hours, leg.wearMm);
        if (leg.failed) this.#remove(moment, slot, "wear", "service");
      }
    }
    moment.flown = until;
    return until < moment.monthHours - HOUR_EDGE;
  }

  /** Hours of this month at which something is next to be done to this arm. */
  #nextEvent(moment: Moment, { component, convenienceAt, leakAt }: Slot): number {
    const toComponentEvent = Math.min(component.dueHours, this.#lifeLimitHours()) - component.hours;
    return Math.min(
      moment.flown + toComponentEvent,
      convenienceAt - moment.hoursBefore,
      leakAt - moment.hoursBefore,
    );
  }

  #lifeLimitHours(): number {
    return this.#part.removals.lifeLimitHours ?? Number.POSITIVE_INFINITY;
  }

  /** Do what is due now: removals first, then the looks of the visit. */
  #attend(moment: Moment, slots: readonly Slot[]): void {
    const now = moment.hoursBefore + moment.flown + HOUR_EDGE;
    for (const slot of slots) {
      if (slot.convenienceAt <= now) this.#remove(moment, slot, "convenience", "inspection");
      else if (slot.leakAt <= now) {
        this.#remove(moment, slot, "seal", moment.random.uniform() < 0.5 ? "service" : "inspection");
      } else if (slot.component.hours + HOUR_EDGE >= this.#lifeLimitHours()) {
        this.#remove(moment, slot, "time expired", "inspection");
      }
    }
    if (!slots.some((slot) => isDue(slot, 0))) return;
    for (const slot of slots) {
      const overlooked = slot.component.lateShare >= OVERLOOKED_SHARE;
      if (isDue(slot, overlooked ? 0 : this.#part.looks.pooledShare)) this.#look(moment, slot);
    }
  }

  #look(moment: Moment, slot: Slot): void {
    const { component } = slot;
    const trueWearMm = wearMm(this.#part, component);
    const written = writeLook(this.#part, trueWearMm, component.lastReadMm, moment.month, moment.random);
    this.#logbook.look(moment, slot, trueWearMm, written);
    component.lastReadMm = written.readMm;
    component.lastLookHours = component.hours;
    if (this.#comesOff(moment, written)) {
      this.#remove(moment, slot, "wear", "inspection");
    } else {
      this.#checkSeal(moment, slot);
      this.#planLook(moment, slot, true);
    }
  }

  #comesOff({ random }: Moment, { readMm, overLimit }: Written): boolean {
    const { deferredShare, cautiousChance, cautiousFromShare } = this.#part.removals;
    if (overLimit) return deferredShare === 0 || random.uniform() >= deferredShare;
    if (cautiousChance === 0 || readMm < cautiousFromShare * this.#part.replaceAtMm) return false;
    return random.uniform() < cautiousChance;
  }

  #setSeal(moment: Moment, slot: Slot): void {
    slot.seal = newSeal(this.#part, moment.environment, moment.standard, moment.random);
    if (slot.seal !== null) this.#readGap(moment, slot, "left");
  }

  #checkSeal(moment: Moment, slot: Slot): void {
    const { seal } = this.#part;
    if (seal === null || slot.seal === null) return;
    const foundMm = this.#readGap(moment, slot, "found");
    if (foundMm > seal.adjustShare * slot.seal.toleranceMm) this.#setSeal(moment, slot);
  }

  #readGap(moment: Moment, slot: Slot, state: "found" | "left"): number {
    const scatterMm = (this.#part.seal?.gaugeScatterMm ?? 0) * moment.random.normal();
    const gapMm = Math.max(0, Math.round(((slot.seal?.gapMm ?? 0) + scatterMm) * 100) / 100);
    this.#logbook.gap(moment, slot, state, gapMm);
    return gapMm;
  }

  #roster(): InstalledRow[] {
    const last = this.#flying.settings.months - 1;
    return this.#slots.flatMap((slots, aircraft) => {
      const { base, standard } = this.#monthBegins(aircraft, last);
      return slots.map(({ component, position, fittedDay, fittedHours }) => ({
        component: component.component,
        aircraft,
        position,
        installedOn: fittedDay,
        hoursAtInstallation: Math.round(fittedHours * 10) / 10,
        hoursNow: Math.round(component.hours * 10) / 10,
        base,
        standard,
      }));
    });
  }
}

/** Due now, or within a share of its interval. */
function isDue({ component }: Slot, earlyShare: number): boolean {
  return component.dueHours - component.hours <= earlyShare * component.dueIntervalHours + HOUR_EDGE;
}

function waitHours(per1000h: number, random: Random): number {
  return per1000h === 0 ? Number.POSITIVE_INFINITY : (random.exponential() * 1000) / per1000h;
}
