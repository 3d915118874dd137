/** A month's lives and joined gaps divided by part. */
import type { GapJoin, JoinedGap } from "../records/gap-join.ts";
import type { GroupKey, Life } from "../records/life.ts";
import type { PartJob } from "./part-work.ts";

/**
 * A job for each part with lives, in the order of their groups.
 *
 * @param keys    every group of the month, those of one part side by side
 * @param gaps    of the whole fleet
 * @param shared  what every part gets
 */
export function partJobs(
  keys: readonly GroupKey[],
  lives: readonly Life[],
  gaps: GapJoin,
  shared: Pick<PartJob, "judging" | "month">,
): PartJob[] {
  const parts = [...new Set(keys.map(({ part }) => part))];
  const livesOf = new Map<string, Life[]>(parts.map((part) => [part, []]));
  const partOf = new Map<number, string>();
  for (const life of lives) {
    livesOf.get(life.group.part)!.push(life);
    partOf.set(life.component, life.group.part);
  }
  const gapsOf = new Map<string, JoinedGap[]>(parts.map((part) => [part, []]));
  for (const gap of gaps.joined) gapsOf.get(partOf.get(gap.component) ?? "")?.push(gap);
  return parts.map((part) => ({
    ...{ part, keys },
    lives: livesOf.get(part)!,
    gaps: { joined: gapsOf.get(part)!, notJoined: gaps.notJoined },
    judging: shared.judging,
    month: {
      ...shared.month,
      actNow: shared.month.actNow.filter(({ group }) => group.part === part),
    },
  }));
}
