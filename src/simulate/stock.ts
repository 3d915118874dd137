/** Where components come from: newly made ones, and those taken off for convenience and waiting on the shelf. */
import type { Random } from "../math/random.ts";
import { type ComponentState, newComponent } from "./component-state.ts";
import type { Logbook } from "./logbook.ts";
import type { PartSettings } from "./settings.ts";

export class Stock {
  readonly #shelf: { readonly component: ComponentState; readonly fromMonth: number }[] = [];
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

  /** The one that has waited longest, else a new one. */
  replacement(month: number, random: Random): ComponentState {
    const waiting = this.#shelf[0];
    if (waiting === undefined || waiting.fromMonth > month) return this.make(month, random);
    this.#shelf.shift();
    return waiting.component;
  }

  /** Nothing goes back on in the month in which it came off, so that days never run backwards. */
  putOnShelf(component: ComponentState, month: number): void {
    this.#shelf.push({ component, fromMonth: month + 1 });
  }
}
