/** File names for groups and for recommendations, no two alike. */
import type { Fleet } from "../fleet/fleet.ts";
import { slugs } from "../fleet/slug.ts";
import type { GroupKey } from "../records/life.ts";

/** A function from the words of a name (task or part, environment, standard) to its slug. */
export function groupSlugs(fleet: Fleet, keys: readonly GroupKey[]): (...words: string[]) => string {
  const join = (words: readonly string[]) => words.join(" ");
  const names = keys.flatMap(({ part, environment, standard }) => [
    join([part, environment, standard]),
    ...fleet.tasks
      .filter((task) => task.part === part)
      .map(({ task }) => join([task, environment, standard])),
  ]);
  const known = slugs(names);
  return (...words) => known.get(join(words))!;
}
