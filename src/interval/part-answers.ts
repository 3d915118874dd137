/**
 * Everything a month says of one part, from its lives: fits, comparisons, recommendations, watch list, groups' numbers.
 *
 * Parts have nothing to do with each other from here on, so each can be answered in a thread of its own: what comes in and
 * what goes out is plain data, and the answer is the same wherever it was made.
 */
import type { Fleet } from "../fleet/fleet.ts";
import type { GapJoin } from "../records/gap-join.ts";
import type { GroupKey, Life } from "../records/life.ts";
import { plainLife } from "../records/life-view.ts";
import { livesByGroup } from "../records/lives-by-group.ts";
import type { Day } from "../units.ts";
import { withBorrowing } from "./borrow.ts";
import { type GroupEvidence, groupEvidence } from "./evidence.ts";
import { shortestInterval } from "./fleet-lives.ts";
import { type GroupAnswer, groupResult } from "./group-result.ts";
import type { JudgeContext } from "./judge.ts";
import { lifeComparison } from "./life-comparison.ts";
import type { PartLifeComparison } from "./life-findings.ts";
import { modelledLives } from "./modelled-lives.ts";
import type { Recommendation, WatchLine } from "./month-result.ts";
import { type MonthContext, recommend } from "./recommend.ts";
import { groupSlugs } from "./slugs.ts";
import { watchList } from "./watch-list.ts";
import { type WatchTally, watchTally } from "./watch-record.ts";
import { type PartWear, rateWithSealsIn, wearFindings } from "./wear-findings.ts";

/** One part's share of a month. */
export interface PartJob {
  readonly part: string;
  /** Of this part, in the order in which they were built. */
  readonly lives: readonly Life[];
  /** Every group of the month: file names must differ among all of them. */
  readonly keys: readonly GroupKey[];
  /** Joined to components of this part. */
  readonly gaps: GapJoin;
  readonly judging: JudgeContext;
  readonly month: Pick<MonthContext, "actNow" | "flown">;
}

export interface PartAnswers {
  readonly part: string;
  /** By task of the part in the order of the fleet file, then by group. */
  readonly recommendations: readonly Recommendation[];
  readonly groups: readonly GroupAnswer[];
  readonly watched: readonly WatchLine[];
  readonly watchTallies: readonly (readonly WatchTally[])[];
  readonly wear: PartWear;
  /** null with a single group. */
  readonly lifeComparison: PartLifeComparison | null;
}

/** @param onStage  hears of each stage as it begins */
export function partAnswers(job: PartJob, onStage: (stage: string) => void): PartAnswers {
  const { part, lives, judging, keys } = job;
  const { fleet, asOf, serials } = judging;
  const { confidence } = fleet.acceptable;
  onStage("fits");
  const evidence = evidenceOf(fleet, serials, lives);

  onStage("wear findings");
  const wear = wearFindings(fleet, part, withModelledComponents(lives, evidence), job.gaps);

  onStage("recommendations");
  const slugOf = groupSlugs(fleet, keys);
  const context: MonthContext = {
    ...judging,
    ...job.month,
    slugOf,
    rateWithSealsIn: (group) => rateWithSealsIn(wear, group),
  };
  const recommendations = fleet.tasks
    .filter((task) => task.part === part)
    .flatMap((task) => evidence.map((group) => recommend(task, group, context)));

  onStage("watch list");
  const spacings = evidence.map(({ key }) => longestSpacing(fleet, key, asOf));
  const watched = evidence.flatMap((group, g) => {
    const spacingH = spacings[g]!;
    return spacingH === null ? [] : watchList(group, group.linesAt(confidence), spacingH, serials);
  });

  onStage("group results");
  const groups = evidence.map((group, g) =>
    groupResult(group, recommendations, slugOf, { confidence, spacingH: spacings[g]!, serials }),
  );
  return {
    ...{ part, recommendations, groups, watched, wear },
    watchTallies: evidence.map((group) => watchTally(group, confidence)),
    lifeComparison: lifeComparison(evidence, confidence),
  };
}

/** Evidence of each group of one part, groups in order of environment and standard. */
export function evidenceOf(
  fleet: Fleet,
  serials: readonly string[],
  lives: readonly Life[],
): GroupEvidence[] {
  const { detectionChance, confidence } = fleet.acceptable;
  const alone = livesByGroup(lives).map(([key, own]) => {
    const modelled = modelledLives(own, serials, fleet.modelledComponents);
    // Models go through their lives many times, so these are taken out of their columns; what only counts leaves them there.
    const plain = modelled.map(plainLife);
    return groupEvidence(
      key,
      modelled === own ? plain : own,
      fleet.parts.find(({ part }) => part === key.part)!,
      detectionChance,
      confidence,
      plain,
    );
  });
  return withBorrowing(alone, fleet);
}

/** The lives, wherever spent, of the components that the models of any group see. */
function withModelledComponents(lives: readonly Life[], evidence: readonly GroupEvidence[]): readonly Life[] {
  if (evidence.every((group) => group.modelled === group.lives)) return lives;
  const seen = new Set(evidence.flatMap(({ modelled }) => modelled.map(({ component }) => component)));
  return lives.filter(({ component }) => seen.has(component));
}

/** Hours to the next look at the longest present interval, flown as late as its tolerance allows; null without a task. */
function longestSpacing(fleet: Fleet, group: GroupKey, asOf: Day): number | null {
  const interval = shortestInterval(fleet, group, asOf);
  if (interval === null) return null;
  const tolerance = Math.max(
    ...fleet.tasks.filter(({ part }) => part === group.part).map((task) => task.tolerance),
  );
  return interval * (1 + tolerance);
}
