import type { GroupKey, Life } from "./life.ts";

/** Lives of each group, groups in order of part, environment, standard. */
export function livesByGroup(lives: readonly Life[]): [GroupKey, Life[]][] {
  const groups = new Map<string, [GroupKey, Life[]]>();
  for (const life of lives) {
    const { part, environment, standard } = life.group;
    const id = JSON.stringify([part, environment, standard]);
    const group = groups.get(id);
    if (group) group[1].push(life);
    else groups.set(id, [life.group, [life]]);
  }
  return [...groups].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, group]) => group);
}
