/** Row problems by code: how often, in how many files, and the first of them. */
import type { ProblemCode, RowProblem } from "../problems.ts";

export interface ProblemGroup {
  readonly code: ProblemCode;
  count: number;
  readonly files: Map<string, number>;
  readonly examples: RowProblem[];
}

export interface ProblemGroups {
  add(problem: RowProblem): void;
  /** Refusals (E-) first, then remarks (W-); the most frequent first. */
  list(): readonly ProblemGroup[];
}

/** Gathers problems, keeping the first few of each code. */
export function problemGroups(examples: number): ProblemGroups {
  const groups = new Map<ProblemCode, ProblemGroup>();
  return {
    add(problem) {
      const group = groups.get(problem.code) ?? {
        code: problem.code,
        count: 0,
        files: new Map<string, number>(),
        examples: [],
      };
      groups.set(problem.code, group);
      const inFile = group.files.get(problem.file) ?? 0;
      group.files.set(problem.file, inFile + 1);
      group.count++;
      if (group.examples.length < examples) group.examples.push(problem);
    },
    list: () =>
      [...groups.values()].sort(
        (a, b) =>
          (a.code[0] === b.code[0] ? 0 : a.code[0]! < b.code[0]! ? -1 : 1) ||
          b.count - a.count ||
          (a.code < b.code ? -1 : 1),
      ),
  };
}
