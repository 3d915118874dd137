/** The texts of all files of one kind: those kept from an earlier run, and the others read, several at once. */
import type { ExportSpec } from "../fleet/fleet.ts";
import type { RowProblem } from "../problems.ts";
import type { BlockPool } from "./block-pool.ts";
import type { FileTexts } from "./file-texts.ts";
import { readOneFile } from "./read-one-file.ts";
import type { ExportSource } from "./source.ts";

/** Where texts are kept from run to run. It gives nothing whose bytes or settings differ from what is asked for. */
export interface KeptTexts {
  /** A file's texts as they were read before; null where they must be read. */
  find(path: string, spec: ExportSpec): Promise<FileTexts | null>;
  keep(path: string, spec: ExportSpec, texts: FileTexts): Promise<void>;
}

/** What there is to read with. */
export interface ReadingMeans {
  readonly pool: BlockPool | null;
  readonly kept: KeptTexts | null;
}

export const IN_THIS_THREAD: ReadingMeans = { pool: null, kept: null };

/** A thread that reads alone has something to do while it waits for a file to be opened. */
const FILES_AT_ONCE = 4;

interface FileOfKind {
  readonly path: string;
  readonly texts: FileTexts;
}

/** Reads the files of a kind; their problems are told in the order of files and lines, whoever was ready first. */
export async function readTexts(
  source: ExportSource,
  spec: ExportSpec,
  means: ReadingMeans,
  onProblem: (problem: RowProblem) => void,
): Promise<FileOfKind[]> {
  const paths = await source.list(spec.files);
  const read: FileOfKind[] = [];
  const underWay: Promise<FileTexts>[] = [];
  for (const [at, path] of paths.entries()) {
    while (underWay.length < Math.min(means.pool?.atOnce ?? FILES_AT_ONCE, paths.length - at)) {
      const reading = textsOf(source, paths[at + underWay.length]!, spec, means);
      // It may fail while an earlier one is waited for; the first to fail is the one that is told.
      reading.catch(() => {});
      underWay.push(reading);
    }
    const texts = await underWay.shift()!;
    for (const problem of texts.problems) onProblem({ ...problem, file: path });
    read.push({ path, texts });
  }
  return read;
}

async function textsOf(
  source: ExportSource,
  path: string,
  spec: ExportSpec,
  { pool, kept }: ReadingMeans,
): Promise<FileTexts> {
  const known = await kept?.find(path, spec);
  if (known) return known;
  const texts = await readOneFile(source, path, spec, pool);
  await kept?.keep(path, spec, texts);
  return texts;
}
