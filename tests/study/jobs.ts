/** Which fleets a run of the study judges. */
import { drawFleet, KINDS, type Kind, mayShowPower } from "./kinds.ts";

export interface StudyJob {
  readonly kind: Kind;
  readonly seed: number;
  readonly forPower: boolean;
}

export interface StudySize {
  /** First seed; each seed gives one fleet of every kind. */
  readonly from: number;
  readonly fleets: number;
  /** Further gentle fleets, from the seeds that follow, of those that may show power. */
  readonly power: number;
}

export function studyJobs({ from, fleets, power }: StudySize): StudyJob[] {
  const jobs: StudyJob[] = [];
  for (let seed = from; seed < from + fleets; seed++) {
    for (const kind of KINDS) jobs.push({ kind, seed, forPower: false });
  }
  for (let seed = from + fleets, left = power; left > 0; seed++) {
    if (!mayShowPower(drawFleet("gentle", seed))) continue;
    jobs.push({ kind: "gentle", seed, forPower: true });
    left--;
  }
  return jobs;
}

export const nameOf = ({ kind, seed }: Pick<StudyJob, "kind" | "seed">): string => `${kind} ${seed}`;
