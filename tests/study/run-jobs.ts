/** Runs the study's jobs in processes of their own; what the record has already is not judged again. */
import { execFileSync, fork } from "node:child_process";
import { appendFileSync, existsSync, mkdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { nameOf, type StudyJob } from "./jobs.ts";
import type { StudyLine } from "./study-fleet.ts";

/** Beside this file, once both are built. */
const WORKER = fileURLToPath(new URL("worker.js", import.meta.url));
/** True risks found by an earlier run. */
export const TRUTH = "tests/study/truth.jsonl";

/**
 * @param folder  holds fleets.jsonl, one line a fleet as soon as it is judged, so that a stopped run goes on where it was
 * @param say     told after each fleet how many are done
 */
export async function runJobs(
  jobs: readonly StudyJob[],
  folder: string,
  processes: number,
  say: (done: number) => void = () => {},
): Promise<StudyLine[]> {
  mkdirSync(folder, { recursive: true });
  const record = join(folder, "fleets.jsonl");
  const known = new Map(readRecord(record).map((line) => [nameOf(line), line]));
  const left = jobs.filter((job) => !known.has(nameOf(job)));
  if (left.length > 0) rememberCommit(folder);
  const workers = Array.from({ length: Math.min(processes, left.length) }, (_, k) => k);
  await Promise.all(
    workers.map(
      (k) =>
        new Promise<void>((resolve, reject) => {
          const child = fork(WORKER, [TRUTH, join(folder, `truth-${k}.jsonl`)]);
          const next = () => {
            const job = left.shift();
            if (job === undefined) {
              child.disconnect();
              resolve();
            } else child.send(job);
          };
          child.on("message", (line: StudyLine) => {
            known.set(nameOf(line), line);
            appendFileSync(record, `${JSON.stringify(line)}\n`);
            say(known.size);
            next();
          });
          child.on("error", reject);
          child.on("exit", (code) => {
            if (code !== 0) reject(new Error(`a process of the study ended with code ${code}`));
          });
          next();
        }),
    ),
  );
  return jobs.map((job) => known.get(nameOf(job))!);
}

/** Commits of the programs that judged a record, in order: one, unless a stopped run was taken up by another. */
export const commitsOf = (folder: string): string[] => {
  const path = join(folder, "commits");
  return existsSync(path) ? readFileSync(path, "utf8").trim().split("\n") : [];
};

function rememberCommit(folder: string): void {
  const commit = execFileSync("git", ["rev-parse", "--short=12", "HEAD"], { encoding: "utf8" }).trim();
  if (!commitsOf(folder).includes(commit)) appendFileSync(join(folder, "commits"), `${commit}\n`);
}

/** A line that a stopped run left half written is passed over, and judged again. */
export function readRecord(path: string): StudyLine[] {
  if (!existsSync(path)) return [];
  return readFileSync(path, "utf8")
    .split("\n")
    .flatMap((line) => {
      try {
        return line === "" ? [] : [JSON.parse(line) as StudyLine];
      } catch {
        return [];
      }
    });
}
