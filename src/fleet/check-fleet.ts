/**
 * What a fleet file's keys must mean together: limits the right way up, names that exist, words with one meaning,
 * columns that each export needs. Each problem names its own line, and the other line where two contradict.
 */
import { buildFleet } from "./build-fleet.ts";
import { checkExports } from "./check-exports.ts";
import { type Findings, findings } from "./findings.ts";
import { SINGLE_STANDARD, UNASSIGNED } from "./fleet.ts";
import type { FleetProblem } from "./fleet-problems.ts";
import { contradictions } from "./intervals.ts";
import { nearestWord } from "./nearest-word.ts";
import type { FleetFile } from "./schema.ts";
import type { Path, YamlSource } from "./yaml-source.ts";

/** Every impossible combination in a file whose keys have the right shape. */
export function checkFleet(file: FleetFile, source: YamlSource): readonly FleetProblem[] {
  const found = findings(source);
  checkExports(file, found);
  checkWords(file, found);
  checkParts(file, found);
  checkSealGaps(file, found);
  checkTasks(file, found);
  checkDecisions(file, found);
  checkAcceptable(file, found);
  if (found.problems.length === 0) checkHistory(file, found);
  return found.problems;
}

function checkWords(file: FleetFile, found: Findings): void {
  for (const section of [
    "environments",
    "standards",
    "gap_states",
    "found_at",
    "findings",
    "wear_words",
  ] as const) {
    const seen = new Map<string, Path>();
    for (const [word, meaning] of Object.entries(file[section] ?? {})) {
      const path = [section, word];
      oneMeaning(seen, word.trim(), path, found);
      if (meaning === UNASSIGNED)
        found.report(path, "a meaning", `"${UNASSIGNED}" is what rows with unknown words are called`);
    }
  }
  const seen = new Map<string, Path>();
  for (const [mode, recorded] of Object.entries(file.causes ?? {})) {
    recorded.forEach((word, i) => {
      oneMeaning(seen, word, ["causes", mode, i], found);
    });
    if (mode.trim() === UNASSIGNED) {
      found.report(
        ["causes", mode],
        "a failure mode",
        `"${UNASSIGNED}" is what rows with unknown causes are called`,
      );
    }
  }
}

function oneMeaning(seen: Map<string, Path>, word: string, path: Path, found: Findings): void {
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

function checkParts(file: FleetFile, found: Findings): void {
  const names = new Map<string, Path>();
  const numbers = new Map<string, Path>();
  file.parts.forEach((part, i) => {
    oneMeaning(names, part.part, ["parts", i, "part"], found);
    part.part_numbers?.forEach((number, j) => {
      oneMeaning(numbers, number, ["parts", i, "part_numbers", j], found);
    });
    const replaceAt: Path = ["parts", i, "replace_at"];
    if (part.replace_at === 0)
      found.report(replaceAt, "a length over zero", "a part is not worn out when new");
    if (part.unsafe_at !== undefined && part.unsafe_at <= part.replace_at) {
      const hint = `replace_at is ${found.place(replaceAt)}; leave unsafe_at out where it is not known`;
      found.report(["parts", i, "unsafe_at"], `more than replace_at (${part.replace_at} mm)`, hint);
    }
  });
}

function checkSealGaps(file: FleetFile, found: Findings): void {
  const seen = new Map<string, Path>();
  file.seal_gaps?.forEach(({ standard, tolerance }, i) => {
    checkMeaning(standard, ["seal_gaps", i, "standard"], "standards", standardsOf(file), found);
    oneMeaning(seen, standard, ["seal_gaps", i, "standard"], found);
    if (tolerance.lowMm >= tolerance.highMm) {
      found.report(["seal_gaps", i, "tolerance"], "the lower gap first", "it is upside down, or of no width");
    }
  });
}

const environmentsOf = (file: FleetFile): readonly string[] => [
  ...new Set(Object.values(file.environments ?? {})),
];

function standardsOf(file: FleetFile): readonly string[] {
  const mapped = [...new Set(Object.values(file.standards ?? {}))];
  return mapped.length > 0 ? mapped : [SINGLE_STANDARD];
}

/** That a named environment or standard is what some recorded word means. */
function checkMeaning(
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

function checkName(name: string, path: Path, what: string, known: readonly string[], found: Findings): void {
  if (known.includes(name)) return;
  const near = nearestWord(name, known);
  found.report(
    path,
    `the name of a ${what}`,
    near === null ? `there are: ${known.join(", ")}` : `did you mean "${near}"?`,
  );
}

function checkTasks(file: FleetFile, found: Findings): void {
  const names = new Map<string, Path>();
  const parts = file.parts.map(({ part }) => part);
  file.tasks.forEach((task, i) => {
    oneMeaning(names, task.task, ["tasks", i, "task"], found);
    checkName(task.part, ["tasks", i, "part"], "part", parts, found);
    const scopes = new Map<string, Path>();
    task.except?.forEach((exception, j) => {
      const path: Path = ["tasks", i, "except", j];
      if (exception.environment === undefined && exception.standard === undefined) {
        found.report(
          path,
          "an environment, a standard, or both",
          `for all, change ${found.place(["tasks", i, "interval"])}`,
        );
      }
      checkScope(file, exception, path, found);
      const scope = JSON.stringify([exception.environment, exception.standard]);
      const first = scopes.get(scope);
      if (first === undefined) scopes.set(scope, path);
      else found.report(path, "each environment and standard once", `there is ${found.place(first)} already`);
    });
  });
}

function checkScope(
  file: FleetFile,
  scope: { readonly environment?: string | undefined; readonly standard?: string | undefined },
  path: Path,
  found: Findings,
): void {
  checkMeaning(scope.environment, [...path, "environment"], "environments", environmentsOf(file), found);
  checkMeaning(scope.standard, [...path, "standard"], "standards", standardsOf(file), found);
}

function checkDecisions(file: FleetFile, found: Findings): void {
  const tasks = file.tasks.map(({ task }) => task);
  file.decisions?.forEach((decision, i) => {
    checkName(decision.task, ["decisions", i, "task"], "task", tasks, found);
    checkScope(file, decision, ["decisions", i], found);
  });
  const months = new Map<string, Path>();
  file.reviews?.forEach((month, i) => {
    oneMeaning(months, month, ["reviews", i], found);
  });
}

/** At most this many looks count before a part is unsafe: misses are not independent. */
export const MOST_LOOKS_COUNTED = 4;

function checkAcceptable(file: FleetFile, found: Findings): void {
  const fleet = buildFleet(file);
  const { detectionChance, unsafeBeforeSeen } = fleet.acceptable;
  if (detectionChance === null) return;
  const least = (1 - detectionChance) ** MOST_LOOKS_COUNTED;
  if (unsafeBeforeSeen >= least * (1 - 1e-9)) return;
  const detection: Path = ["acceptable", "detection", "chance"];
  const hint =
    `with a detection chance of ${detectionChance} (${found.place(detection)}) ${MOST_LOOKS_COUNTED} looks leave ` +
    `${Number(least.toPrecision(3))}, and more are not counted because misses are not independent: a smaller risk can't be shown`;
  const path: Path = ["acceptable", "unsafe_before_seen"];
  const given = file.acceptable?.unsafe_before_seen !== undefined;
  found.report(
    path,
    "a risk that looks can show",
    hint,
    given ? undefined : `the default ${unsafeBeforeSeen}`,
  );
}

/** Approved decisions against the lines that say what is approved now; only sensible once all names are right. */
function checkHistory(file: FleetFile, found: Findings): void {
  for (const { decision, task, exception, presentH } of contradictions(buildFleet(file))) {
    const line: Path =
      exception === null ? ["tasks", task, "interval"] : ["tasks", task, "except", exception, "interval"];
    const hint =
      `the last approved decision there, but what counts now is ${found.place(line)}: ` +
      "correct one of the two, or add the decision that came after";
    found.report(["decisions", decision, "interval"], `the ${presentH} h that is approved now`, hint);
  }
}
