/**
 * What a fleet file's keys must mean together: limits the right way up, names that exist, words with one meaning,
 * columns that each export needs. Each problem names its own line, and the other line where two contradict.
 */
import { power } from "../math/power.ts";
import { buildFleet } from "./build-fleet.ts";
import { checkExports } from "./check-exports.ts";
import { checkMeaning, oneMeaning, standardsOf } from "./check-names.ts";
import { checkDecisions, checkHistory, checkTasks } from "./check-tasks.ts";
import { MOST_LOOKS_COUNTED } from "./defaults.ts";
import { type Findings, findings } from "./findings.ts";
import { UNASSIGNED } from "./fleet.ts";
import type { FleetProblem } from "./fleet-problems.ts";
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

function checkAcceptable(file: FleetFile, found: Findings): void {
  const fleet = buildFleet(file);
  const { detectionChance, unsafeBeforeSeen } = fleet.acceptable;
  if (detectionChance === null) return;
  const least = power(1 - detectionChance, MOST_LOOKS_COUNTED);
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
