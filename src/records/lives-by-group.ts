import type { GroupKey, Life } from "./life.ts";

/** Lives of each group, groups in order of part, environment, standard. */
export function livesByGroup(lives: readonly Life[]): [GroupKey, Life[]][] {
  const groups = new Map<string, [GroupKey, Life[]]>();
  // Lives of a group mostly share one key, which is quicker to find than its words.
  const byKey = new Map<GroupKey, Life[]>();
  for (const life of lives) {
    let own = byKey.get(life.group);
    if (own === undefined) {
      own = listOf(life.group, groups);
      byKey.set(life.group, own);
    }
    own.push(life);
  }
  return [...groups].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, group]) => group);
}

function listOf(key: GroupKey, groups: Map<string, [GroupKey, Life[]]>): Life[] {
  const id = JSON.stringify([key.part, key.environment, key.standard]);
  const known = groups.get(id);
  if (known !== undefined) return known[1];
  const own: Life[] = [];
  groups.set(id, [key, own]);
  return own;
}
