/** A past proposal, granted in thought: what its looks would have found, beside what the looks really made found. */
import type { Fleet } from "../fleet/fleet.ts";
import { clopperPearson } from "../math/exact-bounds.ts";
import type { Life } from "../records/life.ts";
import type { Day } from "../units.ts";
import { grantedLooks } from "./granted-looks.ts";
import { laterLooks } from "./later-looks.ts";
import type { Proposal } from "./proposals.ts";
import type { GrantedRecord } from "./record-result.ts";

/**
 * @param lives   the proposal's group, as the whole record has it
 * @param until   the record's last day
 * @param months  in how many of the months replayed the proposal was made
 */
export function grantedRecord(
  { acceptable, parts }: Fleet,
  { task, group, fromH, toH, month, asOf, kind, failed, predicted }: Proposal,
  lives: readonly Life[],
  until: Day,
  months: number,
): GrantedRecord {
  const { replaceAtMm, unsafeAtMm, beyondLimitFactor } = parts.find(({ part }) => part === group.part)!;
  const { confidence, overLimitPerInspection } = acceptable;
  const spacingH = toH * (1 + task.tolerance);
  const made = laterLooks(lives, asOf, until);
  const over = made.filter((look) => look.over).length;
  return {
    task: task.task,
    ...{ group, fromH, toH, month, asOf, months, kind, failed, spacingH, predicted },
    acceptable: overLimitPerInspection,
    looks: grantedLooks({
      ...{ lives, until, spacingH, replaceAtMm, unsafeAtMm, beyondLimitFactor, confidence },
      from: asOf,
    }),
    made: {
      looks: made.length,
      over,
      share: made.length === 0 ? null : clopperPearson(over, made.length, confidence),
    },
  };
}
