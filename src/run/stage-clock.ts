/** How long each stage of a run took: for the log, never for a page. */

/** Seconds by the clock on the wall, by name of the stage, in order of their first start. */
export type StageSeconds = Readonly<Record<string, number>>;

/** A stage lasts until the next one starts; one that starts again goes on adding up. */
export class StageClock {
  readonly #now: () => Date;
  readonly #seconds = new Map<string, number>();
  #running: { readonly stage: string; readonly since: number } | null = null;

  constructor(now: () => Date) {
    this.#now = now;
  }

  /** Ends the running stage and starts this one. */
  readonly start = (stage: string): void => {
    const at = this.#now().getTime();
    this.#add(at);
    if (!this.#seconds.has(stage)) this.#seconds.set(stage, 0);
    this.#running = { stage, since: at };
  };

  /** The stages so far, the running one up to this moment. */
  seconds(): StageSeconds {
    const at = this.#now().getTime();
    this.#add(at);
    if (this.#running !== null) this.#running = { ...this.#running, since: at };
    return Object.fromEntries([...this.#seconds].map(([stage, ms]) => [stage, Math.round(ms) / 1000]));
  }

  #add(at: number): void {
    if (this.#running === null) return;
    const { stage, since } = this.#running;
    this.#seconds.set(stage, this.#seconds.get(stage)! + Math.max(0, at - since));
  }
}
