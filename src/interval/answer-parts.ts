/** The parts of a month, answered side by side where there are threads for it. */
import { livesByGroup } from "../records/lives-by-group.ts";
import type { GroupAnswer } from "./group-result.ts";
import type { PartLifeComparison } from "./life-findings.ts";
import type { Recommendation } from "./month-result.ts";
import { type PartThread, type Piece, partsBegun, takePieces } from "./part-pieces.ts";
import type { GroupAnswers, PartComparisons, PartJob, PartLives } from "./part-work.ts";
import { withSealsIn } from "./seals-in.ts";
import { noneTaken } from "./turns.ts";
import type { OwnWatchLine } from "./watch-list.ts";
import type { WatchTally } from "./watch-record.ts";
import type { PartWear } from "./wear-findings.ts";

/** Everything a month says of one part. */
export interface PartAnswers {
  readonly part: string;
  /** By task of the part in the order of the fleet file, then by group. */
  readonly recommendations: readonly Recommendation[];
  readonly groups: readonly GroupAnswer[];
  readonly watched: readonly OwnWatchLine[];
  readonly watchTallies: readonly (readonly WatchTally[])[];
  readonly wear: PartWear;
  /** null with a single group. */
  readonly lifeComparison: PartLifeComparison | null;
}

/**
 * Answers in the order of the jobs, whoever gave them.
 *
 * @param onStage  hears of the stages of this thread's own work
 */
export async function answerParts(
  jobs: readonly PartJob[],
  threads: readonly PartThread[],
  onStage: (stage: string) => void,
): Promise<PartAnswers[]> {
  // Joined gaps are for comparisons alone, which are made here: many, and no other thread needs them.
  const parts = jobs.map(({ gaps: _, ...part }): PartLives => part);
  const all = { parts, pieces: piecesOf(parts), taken: noneTaken() };
  const theirs = Promise.all(threads.map((thread) => thread.takePieces(all)));
  // Should this thread's own work fail, that is the error told; theirs must not count as unheard.
  theirs.catch(() => {});
  const workOn = partsBegun(parts, onStage);
  const comparisons = jobs.map(({ gaps }, part) => workOn(part).comparisons(gaps));
  const mine = takePieces(all, workOn);
  onStage("other threads");
  const answered = [...mine, ...(await theirs).flat()];
  return parts.map((part, at) => {
    const groups: GroupAnswers[] = [];
    for (const piece of answered) if (piece.part === at) groups[piece.group] = piece.answers;
    return together(part, comparisons[at]!, groups);
  });
}

/** Those with the most lives first, so that none of them is begun when all else is done. */
function piecesOf(parts: readonly PartLives[]): Piece[] {
  return parts
    .flatMap(({ lives }, part) =>
      livesByGroup(lives).map(([, own], group) => ({ part, group, lives: own.length })),
    )
    .sort((a, b) => b.lives - a.lives)
    .map(({ part, group }) => ({ part, group }));
}

/** @param groups  in order of environment and standard */
function together(
  { part, judging: { fleet } }: PartLives,
  { wear, lifeComparison }: PartComparisons,
  groups: readonly GroupAnswers[],
): PartAnswers {
  const tasks = fleet.tasks.filter((task) => task.part === part);
  return {
    part,
    recommendations: tasks.flatMap((_, task) =>
      groups.map(({ recommendations }) => withSealsIn(recommendations[task]!, wear)),
    ),
    groups: groups.map(({ group }) => group),
    watched: groups.flatMap(({ watched }) => watched),
    watchTallies: groups.map(({ watchTallies }) => watchTallies),
    ...{ wear, lifeComparison },
  };
}
