/** What gets written down of a part's maintenance while records are kept, and what was true behind it. */
import { type ComponentState, wearMm } from "./component-state.ts";
import type { Flying } from "./flying.ts";
import type { Written } from "./gauge.ts";
import { dayOfMoment, type Moment, type Slot } from "./moment.ts";
import type { GapRow, LookRow, RemovalCause, RemovalRow, TrueComponent, TrueGroup } from "./rows.ts";
import type { PartSettings } from "./settings.ts";

const tenth = (hours: number): number => Math.round(hours * 10) / 10;

export class Logbook {
  readonly looks: LookRow[] = [];
  readonly gaps: GapRow[] = [];
  readonly removals: RemovalRow[] = [];
  readonly components: TrueComponent[] = [];
  readonly #groups = new Map<string, TrueGroup>();
  readonly #flying: Flying;
  readonly #part: PartSettings;

  constructor(flying: Flying, part: PartSettings) {
    this.#flying = flying;
    this.#part = part;
  }

  groups(): TrueGroup[] {
    return [...this.#groups.values()];
  }

  made({ component, madeInMonth, newWearMm, ownEffect, badBatch }: ComponentState): void {
    this.components.push({ component, madeInMonth, newWearMm, ownEffect, badBatch });
  }

  flown(moment: Moment, hours: number, madeWearMm: number): void {
    if (!this.#kept(moment)) return;
    const group = this.#group(moment);
    group.hours += hours;
    group.wearMm += madeWearMm;
  }

  look(moment: Moment, slot: Slot, trueWearMm: number, written: Written): void {
    if (!this.#kept(moment)) return;
    const group = this.#group(moment);
    group.looks++;
    if (trueWearMm >= this.#part.replaceAtMm) group.looksTrulyOverLimit++;
    if (written.overLimit) group.looksReadOverLimit++;
    this.looks.push({
      ...this.#place(moment, slot),
      recorded: written.recorded,
      base: this.#writtenBase(moment),
      environment: moment.environment,
      standard: moment.standard,
      trueWearMm,
    });
  }

  removal(
    moment: Moment,
    slot: Slot,
    cause: RemovalCause,
    foundAt: RemovalRow["foundAt"],
    functionalFailure: boolean,
  ): void {
    if (!this.#kept(moment)) return;
    if (functionalFailure) this.#group(moment).functionalFailures++;
    this.removals.push({
      ...this.#place(moment, slot),
      cause,
      foundAt,
      finding: shopFinding(cause, moment.random.uniform()),
      base: moment.base,
      environment: moment.environment,
      standard: moment.standard,
      trueWearMm: wearMm(this.#part, slot.component),
      functionalFailure,
    });
  }

  gap(moment: Moment, slot: Slot, state: GapRow["state"], gapMm: number): void {
    if (!this.#kept(moment)) return;
    this.gaps.push({ ...this.#place(moment, slot), gapMm, state, standard: moment.standard });
  }

  #place(moment: Moment, { component, position }: Slot) {
    return {
      component: component.component,
      aircraft: moment.aircraft,
      position,
      day: dayOfMoment(this.#flying, moment),
      hours: tenth(component.hours),
    };
  }

  #kept(moment: Moment): boolean {
    return moment.month >= this.#flying.settings.recordsBeginMonth;
  }

  #group({ environment, standard }: Moment): TrueGroup {
    const key = `${environment}|${standard}`;
    let group = this.#groups.get(key);
    if (group === undefined) {
      const counts = { looks: 0, looksTrulyOverLimit: 0, looksReadOverLimit: 0, functionalFailures: 0 };
      group = { environment, standard, hours: 0, wearMm: 0, ...counts };
      this.#groups.set(key, group);
    }
    return group;
  }

  #writtenBase({ base, random }: Moment): string {
    const { wrongBaseShare } = this.#part.gauge;
    if (wrongBaseShare === 0 || random.uniform() >= wrongBaseShare) return base;
    const others = this.#flying.settings.bases.filter((other) => other.base !== base);
    return others.length === 0 ? base : others[random.below(others.length)]!.base;
  }
}

/** What the shop says, most of the time; `chance` is uniform. */
function shopFinding(cause: RemovalCause, chance: number): RemovalRow["finding"] {
  if (cause === "wear") return chance < 0.9 ? "confirmed" : null;
  if (cause === "seal") return chance < 0.75 ? "confirmed" : chance < 0.92 ? "no fault found" : null;
  return null;
}
