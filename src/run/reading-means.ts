/** What a run reads its exports with: what earlier runs kept, and threads where there is enough left to read. */
import type { ReadingMeans } from "../ingest/read-texts.ts";
import type { MonthlyRunOptions } from "./output-folder.ts";
import type { RunInputs, RunTools } from "./run-steps.ts";
import type { Stages } from "./stages.ts";
import { openTextCache, type TextCache } from "./text-cache.ts";

/** Below this the threads would take longer to start than to read. */
const LEAST_BYTES_FOR_THREADS = 20e6;

interface MeansContext extends RunTools {
  readonly options: MonthlyRunOptions;
  readonly stages: Pick<Stages, "readingThreads">;
}

/** Does what reads the exports; threads are ended after it, and what is kept of exports no longer there is removed. */
export async function withReadingMeans<T>(
  { options, stages, output, warn }: MeansContext,
  given: RunInputs,
  work: (means: ReadingMeans, unreadBytes: number) => Promise<T>,
): Promise<T> {
  const kept = options.cache ? await openTextCache(output, options.outFolder, given.inputs, warn) : null;
  const unread = await bytesToRead(given, kept);
  const pool =
    options.threads > 1 && unread >= LEAST_BYTES_FOR_THREADS ? stages.readingThreads(options.threads) : null;
  try {
    const done = await work({ pool, kept }, unread);
    await kept?.prune();
    return done;
  } finally {
    await pool?.close();
  }
}

async function bytesToRead({ inputs, fleet }: RunInputs, kept: TextCache | null): Promise<number> {
  let bytes = 0;
  for (const input of inputs) {
    const spec = Object.values(fleet.exports).find(({ kind }) => kind === input.kind);
    if (spec !== undefined && (await kept?.has(input.file, spec))) continue;
    bytes += input.bytes;
  }
  return bytes;
}
