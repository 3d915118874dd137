/** Evidence rules about the models: does the fit describe what was seen, and do the two methods agree? */
import { LEAST_COMPONENTS } from "../wear/decision-fit.ts";
import type { CheckResult, RuleContext } from "./rule-context.ts";
import { type EvidenceRule, notApplicable, verdict } from "./rule-outcome.ts";

const NOT_COMPUTED = "could not be computed for this group";

/** A rule that stands on one check; where the check could not be made, it fails. */
function checkRule(
  rule: string,
  asks: string,
  pick: (checks: RuleContext["checks"]) => CheckResult | null,
  needed: (context: RuleContext) => string,
  settle: string,
): EvidenceRule {
  return {
    rule,
    asks,
    evaluate: (context) => {
      const check = pick(context.checks);
      return verdict(
        check?.passed ?? false,
        check?.found ?? NOT_COMPUTED,
        needed(context),
        check?.settle ?? settle,
      );
    },
  };
}

const percentOf = (share: number): string => `${Math.round(100 * share)} %`;

export const MODEL_RULES: readonly EvidenceRule[] = [
  checkRule(
    "spread as modelled",
    "Are the components' rates spread as the model takes them to be?",
    ({ spreadAsModelled }) => spreadAsModelled,
    () => "no misfit and no rate far outside the others, together at the 5 % level",
    "find what sets the odd components apart, and group them by it",
  ),
  checkRule(
    "no heaping",
    "Are readings free of a heap just below the limit?",
    ({ heaping }) => heaping,
    () => "no more readings just below the limit than just above, beyond chance",
    "a second person's reading near the limit",
  ),
  checkRule(
    "fit",
    "Would another life distribution say much the same?",
    ({ fitAlternative }) => fitAlternative,
    ({ fleet }) => `the best alternative changes the risk by at most ${percentOf(fleet.evidence.fitChange)}`,
    "more over-limit events, which tell the distributions apart",
  ),
  checkRule(
    "lines agree",
    "Does the wear fit predict the over-limit finds that the looks made?",
    ({ linesAgree }) => linesAgree,
    ({ fleet }) => `exact two-sided p at least ${fleet.evidence.linesAgreeP}`,
    "find which looks disagree: readings, limits or environments may be recorded wrongly",
  ),
  checkRule(
    "upper exponent",
    "Is it shown that wear does not accelerate?",
    ({ upperExponent }) => upperExponent,
    ({ fleet }) => `upper bound of the exponent at most ${fleet.evidence.upperExponent}`,
    "components with four readings or more, followed to near the limit",
  ),
  {
    rule: "wear when found",
    asks: "Without an unsafe-at limit: would wear when found stay within what was already met?",
    evaluate: ({ fleet, group, checks }) => {
      const needed =
        "upper bound of the 99th percentile of wear when found at most the 95th percentile already found";
      const part = fleet.parts.find(({ part: name }) => name === group.part)!;
      if (part.unsafeAtMm !== null) return notApplicable("an unsafe-at limit is given", needed);
      return verdict(
        checks.wearWhenFound?.passed ?? false,
        checks.wearWhenFound?.found ?? NOT_COMPUTED,
        needed,
        checks.wearWhenFound?.settle ?? "an unsafe-at limit from the engineering authority",
      );
    },
  },
  {
    rule: "borrowed",
    asks: "Does each method stand on this group's own lives and readings, not only on what other groups lend?",
    evaluate: ({ borrowed }) => {
      const needed = "a line of the group's own wherever one is borrowed";
      const lent = borrowed.filter(({ refused }) => refused === null);
      if (lent.length === 0) return notApplicable("nothing is borrowed", needed);
      const alone = lent.filter((each) => each.alone);
      return verdict(
        alone.length === 0,
        lent.map((each) => `${each.what} borrowed, ${each.alone ? "no" : "beside an"} own line`).join("; "),
        needed,
        `${LEAST_COMPONENTS} components with readings, and more readings of each`,
      );
    },
  },
  {
    rule: "safeguards",
    asks: "Does this version compute every safeguard an extension needs?",
    evaluate: ({ safeguardsMissing }) =>
      verdict(
        safeguardsMissing.length === 0,
        safeguardsMissing.length === 0 ? "all computed" : `not computed: ${safeguardsMissing.join("; ")}`,
        "all of them",
        "a later version of this program",
      ),
  },
];
