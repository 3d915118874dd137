/**
 * What a month asks of one part, in pieces that need nothing of each other: what compares its groups, and each group's fits,
 * recommendations, watch list and numbers. Any thread can do any piece: what comes in and what goes out is plain data, and
 * the answer is the same wherever it was made.
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
import { type MonthContext, type OwnRecommendation, recommend } from "./recommend.ts";
import { groupSlugs } from "./slugs.ts";
import { type OwnWatchLine, watchList } from "./watch-list.ts";
import { type WatchTally, watchTally } from "./watch-record.ts";
import { type PartWear, wearFindings } from "./wear-findings.ts";

/** One part's share of a month, as its groups need it. */
export interface PartLives {
  readonly part: string;
  /** Of this part, in the order in which they were built. */
  readonly lives: readonly Life[];
  /** Every group of the month: file names must differ among all of them. */
  readonly keys: readonly GroupKey[];
  readonly judging: JudgeContext;
  readonly month: Pick<MonthContext, "actNow" | "flown">;
}

/** One part's share of a month. */
export interface PartJob extends PartLives {
  /** Joined to components of this part. */
  readonly gaps: GapJoin;
}

/** What compares the groups of one part. */
export interface PartComparisons {
  readonly wear: PartWear;
  /** null with a single group. */
  readonly lifeComparison: PartLifeComparison | null;
}

/** What a month says of one group by itself. */
export interface GroupAnswers {
  /** By task of the part, in the order of the fleet file; the scenario of seals is added later. */
  readonly recommendations: readonly OwnRecommendation[];
  readonly group: GroupAnswer;
  readonly watched: readonly OwnWatchLine[];
  readonly watchTallies: readonly WatchTally[];
}

export interface PartWork {
  /** @param gaps  joined to components of the part */
  comparisons(gaps: GapJoin): PartComparisons;
  /** @param at  which of the part's groups, in order of environment and standard */
  group(at: number): GroupAnswers;
}

/**
 * A part's pieces, each done when it is asked for. What several need (a group's fits) is made once.
 *
 * @param onStage  hears of each stage as it begins
 */
export function partWork(
  { part, lives, judging, keys, month }: PartLives,
  onStage: (stage: string) => void,
): PartWork {
  const { fleet, serials, asOf } = judging;
  const { confidence } = fleet.acceptable;
  onStage("fits");
  const alone = evidenceAlone(fleet, serials, lives);
  const slugOf = groupSlugs(fleet, keys);
  const tasks = fleet.tasks.filter((task) => task.part === part);
  const context: MonthContext = { ...judging, ...month, slugOf };
  return {
    comparisons(gaps) {
      onStage("wear findings");
      return {
        wear: wearFindings(fleet, part, withModelledComponents(lives, alone), gaps),
        lifeComparison: lifeComparison(alone, confidence),
      };
    },
    group(at) {
      onStage("fits");
      const evidence = withBorrowing(alone[at]!, alone, fleet);
      onStage("recommendations");
      const recommendations = tasks.map((task) => recommend(task, evidence, context));
      onStage("watch list");
      const spacingH = longestSpacing(fleet, evidence.key, asOf);
      const lines = evidence.linesAt(confidence);
      const watched = spacingH === null ? [] : watchList(evidence, lines, spacingH, serials);
      onStage("group results");
      const group = groupResult(evidence, recommendations, slugOf, { confidence, spacingH, serials });
      return { recommendations, group, watched, watchTallies: watchTally(evidence, confidence) };
    },
  };
}

/** Evidence of each group of one part, groups in order of environment and standard. */
export function evidenceOf(
  fleet: Fleet,
  serials: readonly string[],
  lives: readonly Life[],
): GroupEvidence[] {
  const alone = evidenceAlone(fleet, serials, lives);
  return alone.map((group) => withBorrowing(group, alone, fleet));
}

/** The same before a thin group has borrowed. */
function evidenceAlone(fleet: Fleet, serials: readonly string[], lives: readonly Life[]): GroupEvidence[] {
  const { detectionChance, confidence } = fleet.acceptable;
  return livesByGroup(lives).map(([key, own]) => {
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
