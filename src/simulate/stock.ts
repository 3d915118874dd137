/** Where components come from: newly made ones, and those taken off for convenience and waiting on their base's shelf. */
import type { Random } from "../math/random.ts";
import { type ComponentState, newComponent } from "./component-state.ts";
import type { Logbook } from "./logbook.ts";
import type { Moment } from "./moment.ts";
import type { PartSettings } from "./settings.ts";

export class Stock {
  /** By base. */
  readonly #shelves = new Map<string, { readonly component: ComponentState; readonly fromMonth: number }[]>();
  readonly #part: PartSettings;
  readonly #logbook: Logbook;
  #made = 0;

  constructor(part: PartSettings, logbook: Logbook) {
    this.#part = part;
    this.#logbook = logbook;
  }

  make(month: number, random: Random): ComponentState {
    const component = newComponent(this.#part, this.#made++, month, random);
    this.#logbook.made(component);
    return component;
  }

  /** The one that has waited longest at this base, else a new one. */
  replacement({ base, month, random }: Moment): ComponentState {
    const shelf = this.#shelves.get(base);
    const waiting = shelf?.[0];
    if (waiting === undefined || waiting.fromMonth > month) return this.make(month, random);
    shelf?.shift();
    return waiting.component;
  }

  /** Nothing goes back on in the month in which it came off, so that days never run backwards. */
  putOnShelf(component: ComponentState, { base, month }: Moment): void {
    const waiting = { component, fromMonth: month + 1 };
    const shelf = this.#shelves.get(base);
    if (shelf === undefined) this.#shelves.set(base, [waiting]);
    else shelf.push(waiting);
  }
}
