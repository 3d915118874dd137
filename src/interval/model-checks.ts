/** Checks of the models for the evidence rules. A check that can't be made is null, and its rule fails. */
import type { Fleet } from "../fleet/fleet.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";
import { linesAgree } from "./lines-agree.ts";
import type { RuleContext } from "./rule-context.ts";

export function modelChecks(
  evidence: GroupEvidence,
  lines: Lines,
  _presentH: number,
  fleet: Fleet,
): RuleContext["checks"] {
  return {
    spreadAsModelled: null,
    heaping: null,
    fitAlternative: null,
    linesAgree: linesAgree(evidence, lines, fleet.evidence.linesAgreeP),
    upperExponent: null,
    wearWhenFound: null,
  };
}
