import type { GroupKey } from "./life.ts";

/** Each group once, however many lives are in it: what was asked of a group is remembered by its key. */
export class GroupKeys {
  readonly #known: GroupKey[] = [];

  of(part: string, environment: string, standard: string): GroupKey {
    // A fleet has a handful.
    for (const key of this.#known)
      if (key.standard === standard && key.environment === environment && key.part === part) return key;
    const made = { part, environment, standard };
    this.#known.push(made);
    return made;
  }
}

/** A question about a group asked once, and answered as often as it comes up. */
export function rememberedBy<T>(ask: (group: GroupKey) => T): (group: GroupKey) => T {
  const known = new Map<GroupKey, T>();
  return (group) => {
    let answer = known.get(group);
    if (answer === undefined) {
      answer = ask(group);
      known.set(group, answer);
    }
    return answer;
  };
}
