/** Names in a fleet file: each stands once, and what is named is there. */
import type { Findings } from "./findings.ts";
import { SINGLE_STANDARD } from "./fleet.ts";
import { nearestWord } from "./nearest-word.ts";
import type { FleetFile } from "./schema.ts";
import type { Path } from "./yaml-source.ts";

/** A word may be listed under one meaning only; a second one is a finding at its place. */
export function oneMeaning(seen: Map<string, Path>, word: string, path: Path, found: Findings): void {
  const first = seen.get(word);
  if (first === undefined) seen.set(word, path);
  else
    found.report(
      path,
      "each recorded word once",
      `it stands at ${found.place(first)} already`,
      JSON.stringify(word),
    );
}

/** Environments that the fleet file names, each once or more. */
export const environmentsOf = (file: FleetFile): readonly string[] => [
  ...new Set(Object.values(file.environments ?? {})),
];

/** Hardware standards that the fleet file names. */
export function standardsOf(file: FleetFile): readonly string[] {
  const mapped = [...new Set(Object.values(file.standards ?? {}))];
  return mapped.length > 0 ? mapped : [SINGLE_STANDARD];
}

/** That a named environment or standard is what some recorded word means. */
export function checkMeaning(
  name: string | undefined,
  path: Path,
  section: "environments" | "standards",
  known: readonly string[],
  found: Findings,
): void {
  if (name === undefined || known.includes(name)) return;
  const near = nearestWord(name, known);
  const words = known.length === 0 ? `${section} maps no word` : `${section} has ${known.join(", ")}`;
  const hint = near === null ? `no recorded word maps to it; ${words}` : `did you mean "${near}"?`;
  found.report(path, `a meaning in ${section}`, hint);
}

/** A name must be one of the known ones; a finding says the nearest. */
export function checkName(
  name: string,
  path: Path,
  what: string,
  known: readonly string[],
  found: Findings,
): void {
  if (known.includes(name)) return;
  const near = nearestWord(name, known);
  found.report(
    path,
    `the name of a ${what}`,
    near === null ? `there are: ${known.join(", ")}` : `did you mean "${near}"?`,
  );
}
