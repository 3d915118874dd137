/** Evidence rules that only count: basis, review, lives, aircraft, looks, direct counts, data quality. */
import { addMonths } from "../units.ts";
import type { RuleContext } from "./rule-context.ts";
import {
  type EvidenceRule,
  newLivesLastYear,
  notApplicable,
  paceText,
  percent,
  verdict,
} from "./rule-outcome.ts";

/** Lives that were looked at: one never seen since it began says nothing. */
const lookedAt = ({ lives }: RuleContext) => lives.filter(({ lookHours }) => lookHours.length > 0);

/** Lives without an aircraft have a count of their own, under "". */
const livesByAircraft = (context: RuleContext): Map<string, number> => {
  const count = new Map<string, number>();
  for (const { aircraft } of lookedAt(context)) count.set(aircraft, (count.get(aircraft) ?? 0) + 1);
  return count;
};

export const COUNT_RULES: readonly EvidenceRule[] = [
  {
    rule: "basis",
    asks: "Is the interval one that the maintenance programme may extend?",
    evaluate: ({ task }) =>
      verdict(
        task.basis === "programme",
        task.basis,
        "programme",
        "only the type-certificate holder or the authority can change it",
      ),
  },
  {
    rule: "review",
    asks: "Is this a month in which an extension may be decided?",
    evaluate: ({ isReview, fleet }) =>
      verdict(
        isReview,
        fleet.reviews === null
          ? "no reviews are set, so this run counts as the first"
          : isReview
            ? "a review month"
            : "not a review month",
        "a month of the fleet file's reviews",
        "the next review",
      ),
  },
  {
    rule: "lives",
    asks: "Are there enough lives?",
    evaluate: (context) => {
      const { minimumLives } = context.fleet.evidence;
      const found = lookedAt(context).length;
      return verdict(
        found >= minimumLives,
        `${found} lives looked at`,
        `${minimumLives} lives`,
        paceText(minimumLives - found, newLivesLastYear(context), "lives"),
      );
    },
  },
  {
    rule: "aircraft",
    asks: "Do they come from enough aircraft?",
    evaluate: (context) => {
      const { minimumAircraft } = context.fleet.evidence;
      const found = [...livesByAircraft(context).keys()].filter((aircraft) => aircraft !== "").length;
      return verdict(
        found >= minimumAircraft,
        `${found} aircraft`,
        `${minimumAircraft} aircraft`,
        `${minimumAircraft - found} more aircraft with this standard in this environment`,
      );
    },
  },
  {
    rule: "no single aircraft",
    asks: "Does no single aircraft give most of the lives?",
    evaluate: (context) => {
      const { largestAircraftShare } = context.fleet.evidence;
      const largest = [...livesByAircraft(context)].sort((a, b) => b[1] - a[1])[0];
      const share = largest === undefined ? 1 : largest[1] / lookedAt(context).length;
      return verdict(
        share <= largestAircraftShare,
        largest === undefined
          ? "no lives looked at"
          : largest[0] === ""
            ? `${percent(share)} have no aircraft recorded, and may all be of one`
            : `${largest[0]} gives ${percent(share)}`,
        `at most ${percent(largestAircraftShare)}`,
        largest?.[0] === "" ? "the aircraft of each look and removal" : "lives from other aircraft",
      );
    },
  },
  {
    rule: "looks at the present interval",
    asks: "Was the present interval itself tried often enough?",
    evaluate: ({ counted, fleet, presentH, lives, asOf }) => {
      const needed = fleet.evidence.looksAtPresentInterval;
      const yearAgo = addMonths(asOf, -12);
      const lastYear = lives.reduce(
        (sum, life) => sum + life.lookDays.filter((day) => day > yearAgo).length,
        0,
      );
      const share =
        counted.looks === 0
          ? 0
          : counted.looks /
            Math.max(
              1,
              lives.reduce((s, l) => s + l.lookDays.length, 0),
            );
      return verdict(
        counted.looks >= needed,
        `${counted.looks} looks`,
        `${needed} looks within ${percent(fleet.evidence.presentIntervalBand)} of ${presentH} h since the last change`,
        paceText(needed - counted.looks, Math.round(lastYear * share), `looks at ${presentH} h`),
      );
    },
  },
  {
    rule: "direct count",
    asks: "Is the share counted over limit at the present interval acceptable?",
    evaluate: ({ counted, fleet }) => {
      const acceptable = fleet.acceptable.overLimitPerInspection;
      const share = counted.share;
      return verdict(
        share !== null && share.estimate <= acceptable,
        share === null
          ? "no looks to count"
          : `${counted.overLimit} of ${counted.looks} looks (${percent(share.estimate)})`,
        `at most ${percent(acceptable)}`,
        share === null ? "looks at the present interval" : "fewer over-limit finds at the present interval",
      );
    },
  },
  {
    rule: "functional failures",
    asks: "Was the function kept in service?",
    evaluate: ({ functionalFailures }) => failuresOutcome(functionalFailures),
  },
  {
    rule: "readings complete",
    asks: "Do the looks made have a number?",
    evaluate: ({ looksWithNumber: { numbers, looks }, fleet }) => {
      const needed = fleet.evidence.readingsComplete;
      return verdict(
        looks > 0 && numbers / looks >= needed,
        looks === 0 ? "no looks" : `${percent(numbers / looks)} of ${looks} looks`,
        `at least ${percent(needed)}`,
        "record the reading at every look",
      );
    },
  },
  {
    rule: "rejected rows",
    asks: "Could the rows be read?",
    evaluate: ({ rows: { read, rejected, unassigned }, fleet }) => {
      const needed = fleet.evidence.rejectedRows;
      const share = read === 0 ? 1 : (rejected + unassigned) / read;
      return verdict(
        share <= needed,
        read === 0
          ? "no rows were read by this program"
          : `${rejected} rejected and ${unassigned} with words not known, of ${read} rows (${percent(share)})`,
        `at most ${percent(needed)}`,
        "correct the rows listed in rejected.csv and export again, add the words on data.html to the fleet file",
      );
    },
  },
  {
    rule: "no open alert",
    asks: "Is the removal rate where it was?",
    evaluate: ({ alert }) => {
      if (alert === "no rates")
        return notApplicable("no removals with flying hours by environment are exported", "no alert");
      const { open, why } = alert;
      if (open === null)
        return verdict(
          false,
          `not known: ${why}`,
          "no alert",
          "flying hours of every month, and of the window of months before",
        );
      return verdict(
        !open,
        open ? `an alert is open: ${why}` : "no alert",
        "no alert",
        "two of the last three months back under the limit",
      );
    },
  },
  {
    rule: "since the last change",
    asks: "After the last extension: are over-limit finds under their go-back number?",
    evaluate: ({ goBack }) => {
      if (goBack === null) return notApplicable("no extension by a decision is in force", NO_GO_BACK);
      const { finds, looks, stage, reachedAt, formerH } = goBack;
      const back = formerH === null ? "the former interval" : `${formerH} h`;
      return verdict(
        reachedAt === null,
        `${finds} over-limit finds in ${looks} looks`,
        `under ${stage.finds} in the first ${stage.looks} looks`,
        `going back to ${back}, and a decision that says so`,
      );
    },
  },
];

/** No failure counts only where a failure would have been seen. */
function failuresOutcome({ inLast24Months, open, firstOpen, lacks }: RuleContext["functionalFailures"]) {
  const needed = "none in 24 months, and no removal that leaves it open";
  if (lacks !== null)
    return verdict(
      false,
      `not known: ${lacks}`,
      needed,
      "export removals with cause and with where each came to light, and name both columns in the fleet file",
    );
  const counted = `${inLast24Months} in 24 months`;
  if (firstOpen === null)
    return verdict(inLast24Months === 0, counted, needed, "24 months without a failure in service");
  const removals = open === 1 ? "1 removal that may be one" : `${open} removals that may be`;
  return verdict(
    false,
    `${counted}, and ${removals}: ${firstOpen.source}, since ${firstOpen.why}`,
    needed,
    "give the word its meaning in the fleet file, or correct the row and export again",
  );
}

const NO_GO_BACK = "over-limit finds under the go-back number";
