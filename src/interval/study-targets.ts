/** What the study must show. A target is missed where the data rule it out: where even the friendlier 95 % limit is past it. */
import type { Counted, StudyRow, StudyTable } from "./study-table.ts";

const UNSAFE_OVERALL = 0.02;
const UNSAFE_IN_A_KIND = 0.05;
const EVER_EXTENDED = 0.05;
const MISSED = 0.1;
const POWER = 0.8;
/** From a larger table on the counts themselves must keep to the targets, limits or not. */
const MANY_FLEETS = 200;

/** What is missed, in words; empty: nothing. */
export function missedTargets(table: StudyTable): string[] {
  const many = table.rows.every(({ fleets }) => fleets >= MANY_FLEETS);
  const over = ({ n, of, lower }: Counted, most: number) => of > 0 && (many ? n / of > most : lower > most);
  const under = ({ n, of, upper }: Counted, least: number) =>
    of > 0 && (many ? n / of < least : upper < least);
  const missed: string[] = [];
  const ask = (isMissed: boolean, words: string) => {
    if (isMissed) missed.push(words);
  };
  ask(table.all.unsafe.of === 0, "nothing was extended at all");
  ask(over(table.all.unsafe, UNSAFE_OVERALL), "unsafe extensions, all kinds: over 2 %");
  for (const row of table.rows)
    ask(over(ofKind(row), UNSAFE_IN_A_KIND), `unsafe extensions, ${row.kind}: over 5 %`);
  ask(over(table.all.everExtended, EVER_EXTENDED), "ever extended where any extension is unsafe: over 5 %");
  ask(over(table.all.missed, MISSED), "missed shortenings: over 10 %");
  ask(under(table.power, POWER), "power: under 80 %");
  return missed;
}

/** No data show a batch that comes later, and few show one of 5 % before 200 components were read. */
function ofKind({ kind, unsafe, unsafeWhereMany }: StudyRow): Counted {
  if (kind === "bad batch") return unsafeWhereMany;
  return kind === "batch after the decision" ? { n: 0, of: 0, lower: 0, upper: 1 } : unsafe;
}
