/**
 * Safeguards of an extension that this version does not have. While the list has an entry, the rule "safeguards" fails and
 * nothing is extended: the program fails closed. The record of a study on fleets whose truth is known is one of them: without
 * it, or with a target missed, nothing is extended. That this version still is the one that was studied is held by a test
 * (tests/study/as-studied.test.ts).
 */
import { STUDY } from "./study-result.ts";
import type { StudyTable } from "./study-table.ts";
import { missedTargets } from "./study-targets.ts";

/** What is missing, in words, by the record of a study. */
export const missingBy = (study: StudyTable | null): readonly string[] =>
  study === null
    ? ["the simulation study of how often an extension would be unsafe"]
    : missedTargets(study).map((target) => `a target of the simulation study was missed (${target})`);

export const SAFEGUARDS_MISSING: readonly string[] = missingBy(STUDY);
