/** The recommendations as the summary shows them: one row a task and group, with what would be asked about it first. */
import type { VNode } from "preact";
import type { Decision } from "../../fleet/fleet.ts";
import type { Bounded, Month, Recommendation } from "../../interval/month-result.ts";
import type { Rounding } from "../../math/rounded.ts";
import { byUrgency } from "../by-urgency.ts";
import { IntervalRuler } from "../charts/interval-ruler.tsx";
import { rulerEnd } from "../charts/ruler-scale.ts";
import { answerInWords, isUnbounded, risksAt, rulesOf, sentenceCase, worseOverLimit } from "../group-name.ts";
import { brackets, date, hours, share, shareAgainst } from "../number-format.ts";
import { type Cell, type Column, Table } from "../table.tsx";

/** An estimate with its bounds, held against what is acceptable. */
export function RiskWords({ bounded, acceptable }: { bounded: Bounded; acceptable: number }): VNode {
  const write = (value: number, rounding?: Rounding): string => shareAgainst(value, acceptable, rounding);
  const upper = bounded.upper === null ? "(no upper bound)" : brackets({ ...bounded, lower: null }, write);
  return (
    <span class="number">
      {write(bounded.estimate)} {upper}
    </span>
  );
}

/** "refused 800 h on 2025-03-12, until 20 lives over 700 h" */
export function decisionInWords(decision: Decision): string {
  const revisit = decision.revisit === null ? "" : `, until ${decision.revisit}`;
  const reference = decision.reference === null ? "" : ` (${decision.reference})`;
  return `${decision.outcome} ${hours(decision.intervalH)} on ${date(decision.on)}${reference}${revisit}`;
}

function Answer({ recommendation }: { recommendation: Recommendation }): VNode {
  const { lastDecision, recommendedIntervalH, presentIntervalH } = recommendation;
  const changed = recommendedIntervalH !== presentIntervalH;
  return (
    <>
      <span class={changed ? "recommended" : undefined}>{answerInWords(recommendation)}</span>
      <span class="small">
        {lastDecision === null ? (
          "No decision on record."
        ) : (
          <bdi>Authority: {decisionInWords(lastDecision)}.</bdi>
        )}
      </span>
      {recommendation.actNow.length > 0 ? <span class="small">Act now applies: see above.</span> : null}
    </>
  );
}

function Risks({ recommendation, month }: { recommendation: Recommendation; month: Month }): VNode {
  const { acceptable } = month.fleet;
  const at = recommendation.recommendedIntervalH ?? recommendation.presentIntervalH;
  const risk = risksAt(recommendation, at);
  const worse = risk === null ? null : worseOverLimit(risk);
  if (risk === null || worse === null) return <>No risk could be computed.</>;
  // An estimate that nothing bounds would look like an answer.
  if (isUnbounded(recommendation)) return <>Too few data for any bound.</>;
  return (
    <>
      <p>
        Over limit at a look:{" "}
        <RiskWords bounded={worse.share} acceptable={acceptable.overLimitPerInspection} />, {worse.from}
      </p>
      <p>
        Unsafe before it is seen:{" "}
        {risk.unsafeBeforeSeen === null ? (
          "not computed"
        ) : (
          <RiskWords bounded={risk.unsafeBeforeSeen} acceptable={acceptable.unsafeBeforeSeen} />
        )}
      </p>
    </>
  );
}

function Rules({ recommendation }: { recommendation: Recommendation }): VNode {
  const { asked, passed, failed } = rulesOf(recommendation);
  return (
    <>
      <span class="number">
        {passed} of {asked} passed
      </span>
      {failed.length === 0 ? null : <span class="small">Failed: {failed.join(", ")}</span>}
    </>
  );
}

function Name({ recommendation }: { recommendation: Recommendation }): VNode {
  const { environment, standard, part } = recommendation.group;
  return (
    <>
      <a href={`interval-${recommendation.slug}.html`}>
        <bdi>{sentenceCase(`${environment}, ${standard}`)}</bdi>
      </a>
      <span class="small">
        <bdi>{recommendation.task}</bdi>
        {recommendation.task.includes(part) ? null : <bdi> ({part})</bdi>}
      </span>
    </>
  );
}

const columns = (confidence: string): readonly Column[] => [
  { head: "Group and task" },
  { head: "Recommendation" },
  { head: "Hours shown to hold", wide: true, fixed: true },
  { head: `Risks there (one-sided ${confidence} bound)`, wide: true, fixed: true },
  { head: "Rules" },
];

/** Every recommendation of the month in one table. */
export function RecommendationTable({ month }: { month: Month }): VNode {
  const endH = rulerEnd(month.recommendations);
  const rows = byUrgency(month).map((recommendation): readonly Cell[] => {
    const { passed } = rulesOf(recommendation);
    return [
      <Name key="name" recommendation={recommendation} />,
      {
        show: <Answer recommendation={recommendation} />,
        sortBy: recommendation.recommendedIntervalH ?? -1,
      },
      <IntervalRuler key="ruler" recommendation={recommendation} size="row" endH={endH} />,
      <Risks key="risks" recommendation={recommendation} month={month} />,
      { show: <Rules recommendation={recommendation} />, sortBy: passed },
    ];
  });
  const confidence = share(month.fleet.acceptable.confidence);
  return <Table columns={columns(confidence)} rows={rows} sortable />;
}
