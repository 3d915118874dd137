/** The study's record as the table that is published: counts by kind of fleet with Clopper-Pearson limits. */

import type { Counted, StudyPower, StudyRow, StudyTable } from "../../src/interval/study-table.ts";
import { clopperPearson } from "../../src/math/exact-bounds.ts";
import { ACCEPTABLE_TWICE, FEWEST_FOR_POWER, KINDS, PRESENT_H } from "./kinds.ts";
import type { StudyLine } from "./study-fleet.ts";

export interface StudyMeta {
  readonly commit: string;
  readonly date: string;
  readonly seeds: string;
  readonly runs: number;
}

/** Lines in any order; those drawn for power alone count for nothing else. */
export function studyTable(lines: readonly StudyLine[], meta: StudyMeta): StudyTable {
  const drawn = lines.filter(({ forPower }) => !forPower);
  const excesses = drawn
    .filter(counts)
    .flatMap(({ excessExtended }) => excessExtended ?? [])
    .sort((a, b) => a - b);
  const gentle = lines.filter(({ kind }) => kind === "gentle");
  const could = gentle.filter((line) => couldExtend(line) && (line.idealH ?? 0) >= 1.5 * PRESENT_H);
  return {
    ...meta,
    all: studyRow("all kinds", drawn.filter(counts)),
    rows: KINDS.map((kind) =>
      studyRow(
        kind,
        drawn.filter((line) => line.kind === kind),
      ),
    ),
    overshoot:
      excesses.length === 0
        ? null
        : { p95: excesses[Math.ceil(0.95 * excesses.length) - 1]!, largest: excesses.at(-1)! },
    power: counted(could, isExtended),
    powerBy: powerBy(drawn.filter(couldExtend)),
    needless: counted(
      drawn.filter(({ excessAtPresent }) => excessAtPresent <= 1),
      ({ answer }) => answer === "shorten",
    ),
  };
}

/** No data can warn of a batch that comes later: it is shown, and left out of the sums over kinds. */
const counts = ({ kind }: StudyLine): boolean => kind !== "batch after the decision";

const isExtended = ({ answer }: StudyLine): boolean => answer === "extend";
const isUnsafe = (line: StudyLine): boolean => (line.recommendedH ?? 0) > line.longestH;

function studyRow(kind: string, lines: readonly StudyLine[]): StudyRow {
  const extended = lines.filter(isExtended);
  const tooRisky = lines.filter(({ excessAtPresent }) => excessAtPresent > ACCEPTABLE_TWICE);
  const notShortened = ({ answer }: StudyLine) => answer !== "shorten";
  const many = ({ components, looks }: StudyLine) =>
    Math.max(components, looks) >= FEWEST_FOR_POWER.components;
  return {
    kind,
    fleets: lines.length,
    unsafe: counted(extended, isUnsafe),
    unsafeWhereMany: counted(
      extended.filter(({ components }) => components >= 200),
      isUnsafe,
    ),
    everExtended: counted(
      lines.filter(({ everExtended }) => everExtended !== null),
      ({ everExtended }) => everExtended!.review !== null,
    ),
    missed: counted(tooRisky.filter(many), notShortened),
    missedWhereFew: counted(
      tooRisky.filter((line) => !many(line)),
      notShortened,
    ),
    wearBoundUnder: under(lines, ({ bounds }) => bounds.wear),
    unsafeBoundUnder: under(lines, ({ bounds }) => bounds.unsafe),
  };
}

/** @param over  bound over truth; null: no bound */
const under = (lines: readonly StudyLine[], over: (line: StudyLine) => number | null): Counted =>
  counted(
    lines.filter((line) => over(line) !== null),
    (line) => over(line)! < 1,
  );

/** Large enough, followed long enough, and with the limit that an extension needs. */
const couldExtend = ({ components, months, unsafeAt, idealH }: StudyLine): boolean =>
  unsafeAt &&
  idealH !== null &&
  components >= FEWEST_FOR_POWER.components &&
  months >= FEWEST_FOR_POWER.months;

const POWER_STEPS = [1, 1.25, 1.5, 1.75] as const;

const powerBy = (lines: readonly StudyLine[]): StudyPower[] =>
  POWER_STEPS.map((from, k) => {
    const to = POWER_STEPS[k + 1] ?? null;
    const within = ({ idealH }: StudyLine) => {
      const ratio = idealH! / PRESENT_H;
      return ratio >= from && (to === null || ratio < to);
    };
    return { from, to, extended: counted(lines.filter(within), isExtended) };
  });

function counted(lines: readonly StudyLine[], is: (line: StudyLine) => boolean): Counted {
  const n = lines.filter(is).length;
  if (lines.length === 0) return { n, of: 0, lower: 0, upper: 1 };
  const { lower, upper } = clopperPearson(n, lines.length, 0.95);
  return { n, of: lines.length, lower, upper };
}
