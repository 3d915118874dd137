/** Page one of the officer's page: what is proposed, for whom, and why in one picture and four sentences. */
import type { VNode } from "preact";
import type { Borrowed } from "../../interval/borrowed-result.ts";
import { borrowedFrom } from "../../interval/borrowed-words.ts";
import type { Bounded, GroupResult, Month, Recommendation } from "../../interval/month-result.ts";
import type { FigureProps } from "../charts/chart.ts";
import { Figure } from "../charts/figure.tsx";
import { IntervalRuler } from "../charts/interval-ruler.tsx";
import { rulerInWords, rulerReading } from "../charts/ruler-scale.ts";
import { effectivityOf } from "../effectivity.ts";
import { isUnbounded, risksAt } from "../group-name.ts";
import { Part } from "../layout.tsx";
import { boundedRate, counted, fixed, hours, listed, millimetres, share, whole } from "../number-format.ts";
import { decisionInWords, RiskWords } from "./recommendation-rows.tsx";

export interface OfficerProps {
  readonly month: Month;
  readonly recommendation: Recommendation;
  readonly group: GroupResult;
}

/** The interval that the page defends: the recommended one, else the present one. */
export const defended = (recommendation: Recommendation): number =>
  recommendation.recommendedIntervalH ?? recommendation.presentIntervalH;

/** How late a look may be, and that every risk is reckoned with it. */
function toleranceWords({ month, recommendation }: OfficerProps): string {
  const tolerance = month.fleet.tasks.find(({ task }) => task === recommendation.task)?.tolerance ?? 0;
  const intervalH = defended(recommendation);
  if (tolerance === 0) return "none: every risk is worked out for looks at the interval itself";
  return `a look may be ${share(tolerance)} late: every risk is worked out for looks so late, ${hours(intervalH * (1 + tolerance))} apart at ${hours(intervalH)}`;
}

function References(props: OfficerProps): VNode {
  const { month, recommendation, group } = props;
  const part = month.fleet.parts.find(({ part: name }) => name === group.key.part);
  const calendar = recommendation.calendarMonths;
  return (
    <dl class="facts">
      <dt>Task</dt>
      <dd>
        <bdi>{recommendation.task}</bdi>; {recommendation.basis};{" "}
        {recommendation.taskReference === null ? (
          "no reference given"
        ) : (
          <bdi>{recommendation.taskReference}</bdi>
        )}
      </dd>
      <dt>Present interval</dt>
      <dd>
        {hours(recommendation.presentIntervalH)}, from <bdi>{recommendation.presentFrom}</bdi>
        {calendar === null ? "" : `; the calendar limit of ${counted(calendar, "month")} stays`}
      </dd>
      <dt>Tolerance</dt>
      <dd>{toleranceWords(props)}</dd>
      <dt>Replace at</dt>
      <dd>
        {millimetres(group.replaceAtMm)};{" "}
        {part?.replaceAtReference == null ? "no reference given" : <bdi>{part.replaceAtReference}</bdi>}
      </dd>
      <dt>Unsafe at</dt>
      <dd>
        {group.unsafeAtMm === null
          ? "not known: no engineering limit is given"
          : millimetres(group.unsafeAtMm)}
      </dd>
      <dt>Last decision</dt>
      <dd>
        {recommendation.lastDecision === null ? (
          "none on record"
        ) : (
          <bdi>{decisionInWords(recommendation.lastDecision)}</bdi>
        )}
      </dd>
    </dl>
  );
}

/** So many names take three printed lines; a longer list stops earlier and goes on in the annex. */
const AIRCRAFT_AT_MOST = 28;
const AIRCRAFT_NAMED = 22;

function EffectivityList({ month, group }: OfficerProps): VNode {
  const { aircraft, moved, fittedComponents } = effectivityOf(group, month.asOf);
  const part = month.fleet.parts.find(({ part: name }) => name === group.key.part);
  return (
    <Part title="Effectivity">
      <dl class="facts">
        <dt>Part numbers</dt>
        <dd>
          <bdi>{group.key.part}</bdi>: <bdi>{listed(part?.partNumbers ?? [], 12) || "none given"}</bdi>
        </dd>
        <dt>Standard, place</dt>
        <dd>
          <bdi>{group.key.standard}</bdi>, flown in <bdi>{group.key.environment}</bdi> places
        </dd>
        <dt>Aircraft now</dt>
        <dd>
          {counted(fittedComponents, "component")} on{" "}
          {aircraft.length === 0 ? "no aircraft on record" : `${whole(aircraft.length)} aircraft: `}
          <bdi>{listed(aircraft, aircraft.length <= AIRCRAFT_AT_MOST ? undefined : AIRCRAFT_NAMED)}</bdi>
        </dd>
        <dt>Moved, 12 months</dt>
        <dd>{moved.length === 0 ? "none" : <bdi>{listed(moved, 12)}</bdi>}</dd>
      </dl>
      <p>
        An aircraft that moves to where the interval is shorter takes the shorter one, counted from its last
        look; one that comes from there keeps it until its next look. Of several standards on one aircraft,
        the shortest interval holds.
      </p>
    </Part>
  );
}

/** What a method takes from other groups; nothing where it takes nothing. */
function Lent({
  recommendation: { borrowed },
  what,
}: {
  recommendation: Recommendation;
  what: Borrowed["what"];
}): VNode | null {
  const said = borrowedFrom(borrowed, what);
  return said === "" ? null : <bdi>{said}</bdi>;
}

/** The method's share at the interval that the page defends; null where it has none, or one without any bound. */
function shareBy(method: "life" | "wear", recommendation: Recommendation): Bounded | null {
  if (isUnbounded(recommendation)) return null;
  return risksAt(recommendation, defended(recommendation))?.overLimitPerInspection[method] ?? null;
}

const whyNoShare = (recommendation: Recommendation, why: string | null): string =>
  why ?? (isUnbounded(recommendation) ? "too few for any bound" : "not computed at this interval");

function LifeMethod({ month, recommendation, group }: OfficerProps): VNode {
  const at = shareBy("life", recommendation);
  const { life } = group;
  return (
    <p>
      <b>From lives.</b> {counted(life.lives, "life", "lives")}, {whole(life.events)} of them over the limit,
      give a Weibull life curve in which a component that is still good counts only to its last good look.
      <Lent recommendation={recommendation} what="shape of lives" />{" "}
      {at === null ? (
        <>
          No share is given: <bdi>{whyNoShare(recommendation, life.why)}</bdi>.
        </>
      ) : (
        <>
          At {hours(defended(recommendation))} it expects{" "}
          <RiskWords bounded={at} acceptable={month.fleet.acceptable.overLimitPerInspection} /> of looks to
          find a component over the limit.
        </>
      )}
    </p>
  );
}

function WearMethod({ month, recommendation, group }: OfficerProps): VNode {
  const at = shareBy("wear", recommendation);
  const { wear } = group;
  return (
    <p>
      <b>From wear.</b> {counted(wear.readings, "reading")} of {counted(wear.components, "component")} give
      each component a wear rate of its own
      {wear.decision === null
        ? ""
        : `, half of them over ${boundedRate(wear.decision.medianRatePer1000H)} mm per 1000 h, the fastest 1 % over ${boundedRate(wear.decision.p99RatePer1000H)}`}
      {wear.decision?.p99Check
        ? ` (${fixed(wear.decision.p99Check.ratePer1000H, 2, "up")} by the ${whole(wear.decision.p99Check.components)} followed from new alone, too few for a bound; the risks reckon with it)`
        : ""}
      .<Lent recommendation={recommendation} what="spread of rates" />{" "}
      {at === null ? (
        <>
          No share is given: <bdi>{whyNoShare(recommendation, wear.whyNoDecisionFit ?? wear.why)}</bdi>.
        </>
      ) : (
        <>
          At {hours(defended(recommendation))} they expect{" "}
          <RiskWords bounded={at} acceptable={month.fleet.acceptable.overLimitPerInspection} /> of looks to
          find a component over the limit.
        </>
      )}
    </p>
  );
}

/** What makes the governing risk govern. */
function whyGoverning({ recommendation, presentIntervalH, recommendedIntervalH }: Recommendation): string {
  if (recommendation === "shorten") return `furthest over what is acceptable at ${presentIntervalH} h`;
  return `nearest to what is acceptable at ${recommendation === "extend" ? recommendedIntervalH : presentIntervalH} h`;
}

/** Everything of page one below the heading. */
export function Proposal(props: OfficerProps & { readonly riskFigures: readonly FigureProps[] }): VNode {
  const { month, recommendation, riskFigures } = props;
  const confidence = share(month.fleet.acceptable.confidence);
  return (
    <>
      <Part
        title={
          ["keep", "not enough evidence"].includes(recommendation.recommendation) ? "Finding" : "Proposal"
        }
        kind="proposed"
      >
        <p class="proposal">
          <bdi>{recommendation.sentence}</bdi>
        </p>
        <References {...props} />
      </Part>
      <EffectivityList {...props} />
      <Part title="Hours shown to hold" kind="across">
        <div class="wide-only">
          <IntervalRuler recommendation={recommendation} size="page" />
        </div>
        <div class="narrow-only">
          <IntervalRuler recommendation={recommendation} size="row" />
          <p class="small">{rulerInWords(rulerReading(recommendation))}</p>
        </div>
        {riskFigures.length === 0 ? (
          <p>
            {isUnbounded(recommendation)
              ? "No risk is drawn: the data set no bound on any, and an estimate alone would look like an answer."
              : "No risk could be computed at any interval of the grid."}
          </p>
        ) : (
          <div class="figures">
            {riskFigures.map((figure) => (
              <Figure key={figure.title} {...figure} />
            ))}
          </div>
        )}
      </Part>
      <Part title="Two methods" kind="columns across">
        <LifeMethod {...props} />
        <WearMethod {...props} />
        <p class="small">
          Brackets hold one-sided {confidence} bounds. The two methods see overlapping data; the worse counts.
          {recommendation.governing === null || isUnbounded(recommendation) ? null : (
            <>
              {" "}
              Here the deciding risk is <bdi>{recommendation.governing}</bdi>: {whyGoverning(recommendation)}.
            </>
          )}
        </p>
      </Part>
    </>
  );
}
