/**
 * One part of a fleet through its months: components wear, are looked at, come off and are replaced.
 *
 * Within a month the events of an aircraft are taken in the order of its hours; months run over the whole fleet, so
 * that a component taken off in one month can be fitted to another aircraft in a later one.
 */
import type { Random } from "../math/random.ts";
import type { Day } from "../units.ts";
import {
  type ComponentState,
  fly,
  newComponent,
  newSeal,
  type SealState,
  trueRatePerHour,
  wearMm,
} from "./component-state.ts";
import type { Flying } from "./flying.ts";
import { writeLook } from "./gauge.ts";
import type {
  GapRow,
  InstalledRow,
  LookRow,
  PartRecord,
  RemovalCause,
  RemovalRow,
  TrueComponent,
  TrueGroup,
} from "./rows.ts";
import type { PartSettings, RateSettings } from "./settings.ts";

const HOUR_EDGE = 1e-6;
const tenth = (hours: number): number => Math.round(hours * 10) / 10;

interface Slot {
  readonly position: number;
  component: ComponentState;
  seal: SealState | null;
  fittedDay: Day;
  fittedHours: number;
  /** Aircraft hours at which the component will come off for convenience, or for a seal leak. */
  convenienceAt: number;
  leakAt: number;
}

/** Where and when we are: one aircraft, at some hours of one month. */
interface Moment {
  readonly aircraft: number;
  readonly month: number;
  readonly environment: string;
  readonly base: string;
  standard: string;
  /** Hours flown this month, of `monthHours`; and the aircraft's hours at the month's start. */
  flown: number;
  readonly monthHours: number;
  readonly hoursBefore: number;
}

export class PartSimulation {
  readonly #flying: Flying;
  readonly #part: PartSettings;
  readonly #random: Random;
  readonly #slots: Slot[] = [];
  readonly #aircraftHours: Float64Array;
  readonly #rates = new Map<string, RateSettings>();
  readonly #groups = new Map<string, TrueGroup>();
  readonly #shelf: { component: ComponentState; fromMonth: number }[] = [];
  readonly #looks: LookRow[] = [];
  readonly #gaps: GapRow[] = [];
  readonly #removals: RemovalRow[] = [];
  readonly #components: TrueComponent[] = [];

  constructor(flying: Flying, part: PartSettings, random: Random) {
    this.#flying = flying;
    this.#part = part;
    this.#random = random;
    this.#aircraftHours = new Float64Array(flying.aircraft);
    for (const rate of part.rates) this.#rates.set(`${rate.environment}|${rate.standard}`, rate);
  }

  run(): PartRecord {
    const { aircraft, settings } = this.#flying;
    for (let k = 0; k < aircraft; k++) this.#fitAtTheBeginning(this.#moment(k, 0));
    for (let month = 0; month < settings.months; month++) {
      for (let k = 0; k < aircraft; k++) this.#flyMonth(this.#moment(k, month));
    }
    return {
      part: this.#part.part,
      looks: this.#looks,
      gaps: this.#gaps,
      removals: this.#removals,
      installed: this.#roster(),
      components: this.#components,
      groups: [...this.#groups.values()],
    };
  }

  #moment(aircraft: number, month: number): Moment {
    const { settings, hours, base, standard, standards } = this.#flying;
    const cell = aircraft * settings.months + month;
    const at = settings.bases[base[cell]!]!;
    return {
      aircraft,
      month,
      environment: at.environment,
      base: at.base,
      standard: standards[standard[cell]!]!,
      flown: 0,
      monthHours: hours[cell]!,
      hoursBefore: this.#aircraftHours[aircraft]!,
    };
  }

  #slotsOf(aircraft: number): Slot[] {
    const count = this.#part.positions.length;
    return this.#slots.slice(aircraft * count, (aircraft + 1) * count);
  }

  #day(moment: Moment): Day {
    const start = this.#flying.monthStart[moment.month]!;
    const days = this.#flying.monthStart[moment.month + 1]! - start;
    return start + Math.min(days - 1, Math.floor((moment.flown / moment.monthHours) * days));
  }

  #recorded(moment: Moment): boolean {
    return moment.month >= this.#flying.settings.recordsBeginMonth;
  }

  #group(moment: Moment): TrueGroup {
    const key = `${moment.environment}|${moment.standard}`;
    let group = this.#groups.get(key);
    if (group === undefined) {
      group = {
        environment: moment.environment,
        standard: moment.standard,
        hours: 0,
        wearMm: 0,
        looks: 0,
        looksTrulyOverLimit: 0,
        looksReadOverLimit: 0,
        functionalFailures: 0,
      };
      this.#groups.set(key, group);
    }
    return group;
  }

  /** The interval in force here and now: the shortest rule that matches. */
  #intervalHours(moment: Moment): number {
    let shortest = Number.POSITIVE_INFINITY;
    for (const rule of this.#part.intervals) {
      const matches =
        (rule.environment === undefined || rule.environment === moment.environment) &&
        (rule.standard === undefined || rule.standard === moment.standard) &&
        moment.month >= (rule.fromMonth ?? 0) &&
        moment.month < (rule.untilMonth ?? Number.POSITIVE_INFINITY);
      if (matches && rule.intervalHours < shortest) shortest = rule.intervalHours;
    }
    if (shortest === Number.POSITIVE_INFINITY) {
      throw new Error(`${this.#part.part}: no interval for ${moment.environment}, ${moment.standard}`);
    }
    return shortest;
  }

  // Components come and go.

  #fitAtTheBeginning(moment: Moment): void {
    for (let position = 0; position < this.#part.positions.length; position++) {
      const slot = emptySlot(position);
      this.#slots.push(slot);
      this.#fit(moment, slot, this.#make(moment.month));
      // Random phase: somewhere in its first interval, not yet looked at.
      const hours = this.#random.uniform() * slot.component.dueIntervalHours;
      fly(this.#part, slot.component, slot.seal, Math.max(hours, 0.1));
      slot.fittedHours = slot.component.hours;
    }
  }

  #make(month: number): ComponentState {
    const state = newComponent(this.#part, this.#components.length, month, this.#random);
    const { component, madeInMonth, newWearMm, ownEffect, badBatch } = state;
    this.#components.push({ component, madeInMonth, newWearMm, ownEffect, badBatch });
    return state;
  }

  #replacement(month: number): ComponentState {
    const waiting = this.#shelf[0];
    if (waiting !== undefined && waiting.fromMonth <= month) {
      this.#shelf.shift();
      return waiting.component;
    }
    return this.#make(month);
  }

  #fit(moment: Moment, slot: Slot, component: ComponentState): void {
    const { removals } = this.#part;
    const now = moment.hoursBefore + moment.flown;
    slot.component = component;
    slot.fittedDay = this.#day(moment);
    slot.fittedHours = component.hours;
    slot.convenienceAt = now + waitHours(removals.conveniencePer1000h, this.#random);
    slot.leakAt = now + waitHours(removals.sealLeakPer1000h, this.#random);
    this.#setSeal(moment, slot);
    this.#settle(moment, slot);
    this.#planLook(moment, slot, component.dueIntervalHours === 0);
  }

  /** Rate as flown here. */
  #settle(moment: Moment, slot: Slot): void {
    const rate = this.#rates.get(`${moment.environment}|${moment.standard}`);
    if (rate === undefined) {
      throw new Error(`${this.#part.part}: no wear rate for ${moment.environment}, ${moment.standard}`);
    }
    if (slot.seal !== null) slot.seal.wearFactor = this.#part.seal?.wearFactor[moment.environment] ?? 1;
    const effect = this.#flying.effect[moment.aircraft]!;
    slot.component.ratePerHour = trueRatePerHour(this.#part, slot.component, rate, effect);
  }

  /** When the next look falls due; `afterLook` draws anew how late it will be. */
  #planLook(moment: Moment, slot: Slot, afterLook: boolean): void {
    const { component } = slot;
    const { earlyShare, lateShare, overlookedShare } = this.#part.looks;
    const random = this.#random;
    if (afterLook) {
      component.lateShare = -earlyShare + random.uniform() * (earlyShare + lateShare);
      const overlooked = overlookedShare > 0 && random.uniform() < overlookedShare;
      if (overlooked) component.lateShare = 0.2 + 0.5 * random.uniform();
    }
    component.dueIntervalHours = this.#intervalHours(moment);
    component.dueHours = component.lastLookHours + component.dueIntervalHours * (1 + component.lateShare);
  }

  #remove(
    moment: Moment,
    slot: Slot,
    cause: RemovalCause,
    foundAt: "inspection" | "service",
    functionalFailure = false,
  ): void {
    const { component } = slot;
    if (this.#recorded(moment)) {
      if (functionalFailure) this.#group(moment).functionalFailures++;
      const chance = this.#random.uniform();
      const { aircraft, base, environment, standard } = moment;
      this.#removals.push({
        component: component.component,
        aircraft,
        position: slot.position,
        day: this.#day(moment),
        hours: tenth(component.hours),
        cause,
        foundAt,
        finding: shopFinding(cause, chance),
        base,
        environment,
        standard,
        trueWearMm: wearMm(this.#part, component),
        functionalFailure,
      });
    }
    const refit = cause === "convenience" && this.#random.uniform() < this.#part.removals.refitChance;
    if (refit) this.#shelf.push({ component, fromMonth: moment.month + 1 });
    this.#fit(moment, slot, this.#replacement(moment.month));
  }

  // A month of one aircraft.

  #flyMonth(moment: Moment): void {
    const slots = this.#slotsOf(moment.aircraft);
    if (this.#flying.retrofitMonth[moment.aircraft] === moment.month && moment.month > 0) {
      this.#fitLaterRings(moment, slots);
    }
    for (const slot of slots) {
      this.#settle(moment, slot);
      const interval = this.#intervalHours(moment);
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
      if (slot.component === fitted && this.#random.uniform() < share) {
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
        if (this.#recorded(moment)) {
          const group = this.#group(moment);
          group.hours += leg.hours;
          group.wearMm += leg.wearMm;
        }
        if (leg.failed) this.#remove(moment, slot, "wear", "service", true);
      }
    }
    moment.flown = until;
    return until < moment.monthHours - HOUR_EDGE;
  }

  /** Hours of this month at which something is next to be done to this arm. */
  #nextEvent(moment: Moment, slot: Slot): number {
    const { component } = slot;
    const limit = this.#part.removals.lifeLimitHours ?? Number.POSITIVE_INFINITY;
    const toComponentEvent = Math.min(component.dueHours, limit) - component.hours;
    return Math.min(
      moment.flown + toComponentEvent,
      slot.convenienceAt - moment.hoursBefore,
      slot.leakAt - moment.hoursBefore,
    );
  }

  /** Do what is due now: removals first, then the looks of the visit. */
  #attend(moment: Moment, slots: readonly Slot[]): void {
    const now = moment.hoursBefore + moment.flown + HOUR_EDGE;
    const limit = this.#part.removals.lifeLimitHours ?? Number.POSITIVE_INFINITY;
    for (const slot of slots) {
      if (slot.convenienceAt <= now) this.#remove(moment, slot, "convenience", "inspection");
      else if (slot.leakAt <= now) {
        this.#remove(moment, slot, "seal", this.#random.uniform() < 0.5 ? "service" : "inspection");
      } else if (slot.component.hours + HOUR_EDGE >= limit) {
        this.#remove(moment, slot, "time expired", "inspection");
      }
    }
    const isDue = ({ component }: Slot, early: number) =>
      component.dueHours - component.hours <= early * component.dueIntervalHours + HOUR_EDGE;
    if (!slots.some((slot) => isDue(slot, 0))) return;
    for (const slot of slots) {
      const overlooked = slot.component.lateShare >= 0.2;
      if (isDue(slot, overlooked ? 0 : this.#part.looks.pooledShare)) this.#look(moment, slot);
    }
  }

  // Looks.

  #look(moment: Moment, slot: Slot): void {
    const part = this.#part;
    const { component } = slot;
    const trueWearMm = wearMm(part, component);
    const written = writeLook(part, trueWearMm, component.lastReadMm, moment.month, this.#random);
    if (this.#recorded(moment)) this.#writeDown(moment, slot, trueWearMm, written);
    component.lastReadMm = written.readMm;
    component.lastLookHours = component.hours;
    if (this.#comesOff(written.readMm, written.overLimit)) {
      this.#remove(moment, slot, "wear", "inspection");
    } else {
      this.#checkSeal(moment, slot);
      this.#planLook(moment, slot, true);
    }
  }

  #comesOff(readMm: number, overLimit: boolean): boolean {
    const { deferredShare, cautiousChance, cautiousFromShare } = this.#part.removals;
    if (overLimit) return deferredShare === 0 || this.#random.uniform() >= deferredShare;
    if (cautiousChance === 0 || readMm < cautiousFromShare * this.#part.replaceAtMm) return false;
    return this.#random.uniform() < cautiousChance;
  }

  #writeDown(moment: Moment, slot: Slot, trueWearMm: number, written: ReturnType<typeof writeLook>): void {
    const group = this.#group(moment);
    group.looks++;
    if (trueWearMm >= this.#part.replaceAtMm) group.looksTrulyOverLimit++;
    if (written.overLimit) group.looksReadOverLimit++;
    const { aircraft, environment, standard } = moment;
    this.#looks.push({
      component: slot.component.component,
      aircraft,
      position: slot.position,
      day: this.#day(moment),
      hours: tenth(slot.component.hours),
      recorded: written.recorded,
      base: this.#writtenBase(moment.base),
      environment,
      standard,
      trueWearMm,
    });
  }

  #writtenBase(base: string): string {
    const { wrongBaseShare } = this.#part.gauge;
    if (wrongBaseShare === 0 || this.#random.uniform() >= wrongBaseShare) return base;
    const others = this.#flying.settings.bases.filter((other) => other.base !== base);
    return others[this.#random.below(others.length)]?.base ?? base;
  }

  // Seals.

  #setSeal(moment: Moment, slot: Slot): void {
    slot.seal = newSeal(this.#part, moment.environment, moment.standard, this.#random);
    if (slot.seal === null) return;
    this.#writeGap(moment, slot, "left");
  }

  #checkSeal(moment: Moment, slot: Slot): void {
    const { seal } = this.#part;
    if (seal === null || slot.seal === null) return;
    const foundMm = this.#writeGap(moment, slot, "found");
    if (foundMm > seal.adjustShare * slot.seal.toleranceMm) this.#setSeal(moment, slot);
  }

  #writeGap(moment: Moment, slot: Slot, state: "found" | "left"): number {
    const scatterMm = (this.#part.seal?.gaugeScatterMm ?? 0) * this.#random.normal();
    const gapMm = Math.max(0, Math.round(((slot.seal?.gapMm ?? 0) + scatterMm) * 100) / 100);
    if (this.#recorded(moment)) {
      this.#gaps.push({
        component: slot.component.component,
        aircraft: moment.aircraft,
        position: slot.position,
        day: this.#day(moment),
        hours: tenth(slot.component.hours),
        gapMm,
        state,
        standard: moment.standard,
      });
    }
    return gapMm;
  }

  #roster(): InstalledRow[] {
    const last = this.#flying.settings.months - 1;
    return this.#slots.map((slot, index) => {
      const aircraft = Math.floor(index / this.#part.positions.length);
      const { base, standard } = this.#moment(aircraft, last);
      return {
        component: slot.component.component,
        aircraft,
        position: slot.position,
        installedOn: slot.fittedDay,
        hoursAtInstallation: tenth(slot.fittedHours),
        hoursNow: tenth(slot.component.hours),
        base,
        standard,
      };
    });
  }
}

/** An arm before anything is fitted: `#fit` fills it at once. */
function emptySlot(position: number): Slot {
  const component = {} as ComponentState;
  return { position, component, seal: null, fittedDay: 0, fittedHours: 0, convenienceAt: 0, leakAt: 0 };
}

function waitHours(per1000h: number, random: Random): number {
  return per1000h === 0 ? Number.POSITIVE_INFINITY : (random.exponential() * 1000) / per1000h;
}

function shopFinding(cause: RemovalCause, chance: number): RemovalRow["finding"] {
  if (cause === "wear") return chance < 0.9 ? "confirmed" : null;
  if (cause === "seal") return chance < 0.75 ? "confirmed" : chance < 0.92 ? "no fault found" : null;
  return null;
}
