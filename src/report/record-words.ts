/** A record of past months in sentences: what the command prints, what the page begins with. */
import type { Method, PastRecord, TotalRecord } from "../replay/record-result.ts";
import { counted, fixed, listed, monthName, share, whole } from "./number-format.ts";
import { pValue } from "./pages/p-value.ts";

/** A line of evidence as the page calls it. */
export const methodName = (method: Method): string => (method === "life" ? "lives" : "wear");

/** All groups together by one method; undefined where it predicted nothing. */
export const overall = ({ totals }: PastRecord, method: Method): TotalRecord | undefined =>
  totals.find((total) => total.group === null && total.method === method);

/** A predicted count: a decimal where it is small. */
export const predictedCount = (value: number): string => fixed(value, value < 100 ? 1 : 0);

/** Under this p a count is called other than predicted. */
const UNLIKELY = 0.05;

/** "fewer than predicted", "more than predicted", "as predicted": by the exact p. */
export function verdictOf({ found, predicted, p }: Pick<TotalRecord, "found" | "predicted" | "p">): string {
  if (p >= UNLIKELY) return "as predicted";
  return found > predicted ? "more than predicted" : "fewer than predicted";
}

/** The page's finding. */
export function recordTitle(record: PastRecord): string {
  const lines = (["life", "wear"] as const).flatMap((method) => overall(record, method) ?? []);
  if (lines.length === 0) return "Record: no look has been made since the months replayed";
  const parts = lines.map(
    ({ method, predicted, found }) =>
      `${predictedCount(predicted)} predicted from ${methodName(method)} and ${whole(found)} found`,
  );
  return `Over-limit finds after ${counted(record.months.length, "month-end")}: ${parts.join("; ")}`;
}

/** What the record comes to, a sentence each. */
export function recordSummary(record: PastRecord): string[] {
  return [coverage(record), ...countSentences(record), watchSentence(record), grantedSentence(record)];
}

function coverage({ months, skipped, asOf, horizonMonths }: PastRecord): string {
  const [first] = months;
  const last = months.at(-1)!;
  const left = skipped.length === 0 ? "" : ` ${counted(skipped.length, "month-end")} could not be replayed.`;
  const reach = months.filter(({ asOf: day }) => day < asOf).length;
  const span =
    first === last ? monthName(last.month) : `${monthName(first!.month)} to ${monthName(last.month)}`;
  return `${counted(months.length, "month-end")} replayed, ${span}; ${whole(reach)} of them with a later record, ${whole(horizonMonths)} months of it at most.${left}`;
}

function countSentences(record: PastRecord): string[] {
  return (["life", "wear"] as const).map((method) => {
    const total = overall(record, method);
    const name = method === "life" ? "From lives" : "From wear";
    if (total === undefined) return `${name}: no later look that a line of then could predict.`;
    const { looks, predicted, found, p } = total;
    return `${name}: ${predictedCount(predicted)} over-limit finds predicted in ${counted(looks, "look")}, ${whole(found)} found: ${verdictOf(total)} (exact two-sided p ${pValue(p)}).`;
  });
}

function watchSentence({ watch }: PastRecord): string {
  if (watch === null) return "Watch list: no next look to hold it against.";
  const verdict = verdictOf({ found: watch.over, predicted: watch.given, p: watch.p });
  return `Watch list: the chances given add up to ${predictedCount(watch.given)} in ${counted(watch.looks, "next look")}, ${whole(watch.over)} were over: ${verdict} (p ${pValue(watch.p)}).`;
}

function grantedSentence({ granted }: PastRecord): string {
  if (granted.length === 0) return "Longer intervals: none was proposed, and none held by its bounds.";
  const kinds = (["extend", "would pass", "bounds held, rules failed"] as const).flatMap((kind) => {
    const count = granted.filter((one) => one.kind === kind).length;
    return count === 0 ? [] : [`${whole(count)} ${KIND_WORDS[kind]}`];
  });
  const judged = granted.filter(({ looks }) => looks.share !== null);
  const over = judged.filter(({ looks, acceptable }) => looks.share!.estimate > acceptable);
  const outcome =
    judged.length === 0
      ? "granted, none of them would have had a look by now"
      : `granted, ${over.length === 0 ? "none" : whole(over.length)} of the ${whole(judged.length)} that would have had looks by now would have found more than the acceptable ${share(judged[0]!.acceptable)} of them over the limit`;
  return `Longer intervals: ${listed(kinds)}; ${outcome}.`;
}

const KIND_WORDS = {
  extend: "recommended",
  "would pass": "would have passed at a review",
  "bounds held, rules failed": "held by their bounds while rules failed",
} as const;
