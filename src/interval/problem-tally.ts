/** Row problems counted by code and file with their first examples, while each is passed on. */
import { describeProblem, type RowProblem } from "../problems.ts";
import type { ProblemCount } from "./month-result.ts";

const EXAMPLES = 3;

export class ProblemTally {
  readonly #counts = new Map<string, { code: string; file: string; count: number; examples: string[] }>();
  readonly #pass: (problem: RowProblem) => void;

  constructor(pass: (problem: RowProblem) => void) {
    this.#pass = pass;
  }

  /** Counts a problem and passes it on. */
  readonly take = (problem: RowProblem): void => {
    const key = `${problem.code}\n${problem.file}`;
    const known = this.#counts.get(key) ?? { code: problem.code, file: problem.file, count: 0, examples: [] };
    known.count++;
    if (known.examples.length < EXAMPLES) known.examples.push(describeProblem(problem));
    this.#counts.set(key, known);
    this.#pass(problem);
  };

  /** By code, then file. */
  counts(): ProblemCount[] {
    return [...this.#counts.entries()].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, count]) => count);
  }
}
