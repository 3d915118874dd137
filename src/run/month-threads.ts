/** Threads that replay past months beside the one that leads. */
import { type LifePlaces, placesOf } from "../records/life-view.ts";
import type { MonthOutcome, MonthThread, PastMonths, WholeRecord } from "../replay-month.ts";
import { AskedThread } from "./asked-thread.ts";
import { errorTold, type ToldError } from "./told-error.ts";

/** What a thread tells when it finds no month left. */
export type MonthReply =
  | { readonly kind: "outcomes"; readonly outcomes: readonly MonthOutcome[] }
  | ({ readonly kind: "failed" } & ToldError);

/** Months as they are posted: lives in shared columns, and the folder that the thread reads the exports from. */
export type PostedMonths = Omit<PastMonths, "whole"> & {
  readonly whole: Omit<WholeRecord, "lives"> & { readonly lives: LifePlaces };
  readonly exportsFolder: string;
};

/** Threads at work, to be closed by whoever started them. */
export interface MonthThreads {
  readonly threads: readonly MonthThread[];
  close(): Promise<void>;
}

/**
 * Starts threads; they load their programs while the whole record is read.
 *
 * @param script         the built month-worker: threads can't be started from TypeScript
 * @param exportsFolder  where each of them reads the exports
 */
export function startMonthThreads(count: number, script: URL, exportsFolder: string): MonthThreads {
  const threads = Array.from(
    { length: count },
    () => new AskedThread<PostedMonths, MonthReply>(script, "a thread that replays months"),
  );
  const takeMonths = async (
    thread: AskedThread<PostedMonths, MonthReply>,
    months: PastMonths,
  ): Promise<readonly MonthOutcome[]> => {
    const whole = { ...months.whole, lives: placesOf(months.whole.lives) };
    const told = await thread.ask({ ...months, whole, exportsFolder });
    if (told.kind === "outcomes") return told.outcomes;
    throw errorTold(told);
  };
  return {
    threads: threads.map((thread) => ({ takeMonths: (months) => takeMonths(thread, months) })),
    close: async () => {
      await Promise.all(threads.map((thread) => thread.close()));
    },
  };
}
