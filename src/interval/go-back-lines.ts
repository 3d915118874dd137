/** Act now where the over-limit finds since a change have reached their go-back number. Counts only; no model. */
import type { Life, RowRef } from "../records/life.ts";
import { livesByGroup } from "../records/lives-by-group.ts";
import { isoDate } from "../units.ts";
import type { ActNowContext } from "./act-now.ts";
import { type GoBackWatch, goBackWatch } from "./go-back-watch.ts";
import type { ActNowLine } from "./month-result.ts";

export function goBackLines({ fleet, lives, asOf, exports }: ActNowContext): ActNowLine[] {
  const lines: ActNowLine[] = [];
  for (const [group, own] of livesByGroup(lives)) {
    for (const task of fleet.tasks) {
      if (task.part !== group.part) continue;
      const watch = goBackWatch(fleet, task, group, own, asOf);
      if (watch === null || watch.reachedAt === null) continue;
      const look = watch.counted[watch.reachedAt]!;
      const row = rowOf(look.life);
      lines.push({
        kind: "go-back number reached",
        group,
        serial: exports.components.serial[look.life.component]!,
        where:
          [look.life.aircraft, look.life.position].filter((word) => word !== "").join(", ") || "not recorded",
        found: foundText(watch),
        limit: limitText(task.task, watch),
        day: look.day,
        source: `${exports.files[row.file]!.file}:${row.line}`,
      });
    }
  }
  return lines;
}

/** The row that a life's find stands in: that of its look, or of the removal that counts as one. */
function rowOf({ end, rows }: Life): RowRef {
  const atLook = end === "over limit found" ? rows.findLast(({ kind }) => kind === "wear") : undefined;
  return atLook ?? rows.at(-1)!;
}

const foundText = ({ finds, looks, intervalH, since }: GoBackWatch): string =>
  `${finds} over-limit finds in ${looks} looks at ${intervalH} h since ${isoDate(since)}; this one reached the number`;

const percent = (share: number): string => `${Number((100 * share).toPrecision(2))} %`;

function limitText(task: string, { stage, formerH, promisedShare }: GoBackWatch): string {
  const to = formerH === null ? "the former interval" : `${formerH} h`;
  return (
    `${task}: go back to ${to} at ${stage.finds} finds in the first ${stage.looks} looks ` +
    `(by chance at most ${percent(stage.falseAlarm)} of the time if ${percent(promisedShare)} of looks find one)`
  );
}
