/** Threads that draw the charts of a run, started early so that they have loaded what they draw with when they are asked. */
import type { Draw } from "../report/charts/render.ts";
import type { MonthlyRunOptions } from "./output-folder.ts";
import type { Stages } from "./stages.ts";

/** A month has some eighty charts: more threads would take longer to load than to draw. */
const MOST_DRAWING_THREADS = 2;

interface DrawingContext {
  readonly options: Pick<MonthlyRunOptions, "threads">;
  readonly stages: Pick<Stages, "drawingThreads">;
}

/** Does what needs charts, with threads that draw them where there are several; they are ended after it. */
export async function withDrawing<T>(
  { options, stages }: DrawingContext,
  work: (draw: Draw | undefined) => Promise<T>,
): Promise<T> {
  if (options.threads < 2) return work(undefined);
  const threads = stages.drawingThreads(Math.min(options.threads, MOST_DRAWING_THREADS));
  try {
    return await work(threads.draw);
  } finally {
    await threads.close();
  }
}
