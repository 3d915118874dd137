/** Gathers what is wrong with a fleet file whose keys have the right shape, with the lines where it stands. */
import { type FleetProblem, pathText, shown, valueAt } from "./fleet-problems.ts";
import type { Path, YamlSource } from "./yaml-source.ts";

export interface Findings {
  readonly problems: readonly FleetProblem[];
  /** `found` is the value at the path unless given. */
  report(path: Path, expected: string, hint: string, found?: string): void;
  /** "parts[0].replace_at on line 12" */
  place(path: Path): string;
}

export function findings(source: YamlSource): Findings {
  const problems: FleetProblem[] = [];
  return {
    problems,
    report: (path, expected, hint, found = shown(valueAt(source.value, path))) =>
      problems.push({ line: source.lineOf(path), key: pathText(path), expected, found, hint }),
    place: (path) => `${pathText(path)} on line ${source.lineOf(path)}`,
  };
}
