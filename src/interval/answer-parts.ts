/** The parts of a month, answered side by side where there are threads for it. */
import { type PartAnswers, type PartJob, partAnswers } from "./part-answers.ts";

/** Another thread that answers parts; who it is is decided where the program starts. */
export interface PartThread {
  answer(job: PartJob): Promise<PartAnswers>;
}

/**
 * Answers in the order of the jobs, whoever gave them. Jobs are dealt out beforehand, the largest first, each to whoever
 * has the least to do: no thread waits to be told while this one is computing.
 *
 * @param onStage  hears of the stages of this thread's own parts
 */
export async function answerParts(
  jobs: readonly PartJob[],
  threads: readonly PartThread[],
  onStage: (stage: string) => void,
): Promise<PartAnswers[]> {
  const [own, ...dealt] = dealOut(jobs, threads.length + 1);
  const theirs = Promise.all(
    threads.map((thread, at) => Promise.all(dealt[at]!.map((job) => thread.answer(job)))),
  );
  // Should this thread's own part fail, that is the error told; theirs must not count as unheard.
  theirs.catch(() => {});
  const mine = own!.map((job) => partAnswers(job, onStage));
  onStage("other threads");
  const all = [...mine, ...(await theirs).flat()];
  return jobs.map(({ part }) => all.find((answers) => answers.part === part)!);
}

/** Jobs for each of so many, the largest first to whoever has the fewest lives. */
function dealOut(jobs: readonly PartJob[], count: number): PartJob[][] {
  const hands = Array.from({ length: count }, () => ({ jobs: [] as PartJob[], lives: 0 }));
  for (const job of [...jobs].sort((a, b) => b.lives.length - a.lives.length)) {
    const hand = hands.reduce((least, one) => (one.lives < least.lives ? one : least));
    hand.jobs.push(job);
    hand.lives += job.lives.length;
  }
  return hands.map((hand) => hand.jobs);
}
