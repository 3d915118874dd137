/** index.html: read standing, in thirty seconds, on the first of the month. What must I look at? */
import type { VNode } from "preact";
import { emptyMonth } from "../../interval/empty-month.ts";
import type { Month, WatchLine } from "../../interval/month-result.ts";
import type { RemovalTrend } from "../../interval/removal-findings.ts";
import { groupName, sentenceCase } from "../group-name.ts";
import { Page, Part } from "../layout.tsx";
import { monthFinding } from "../month-finding.ts";
import { boundedRate, brackets, counted, date, fixed, hours, share, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";
import { ActNow } from "./act-now.tsx";
import { RecommendationTable } from "./recommendation-rows.tsx";

const WATCHED = 10;

function TooFew({ month }: { month: Month }): VNode | null {
  const few = month.recommendations.filter(({ recommendation }) => recommendation === "not enough evidence");
  if (few.length === 0) return null;
  return (
    <>
      <h3>Where the evidence is too thin, the approved interval stays</h3>
      <ul>
        {few.map((recommendation) => (
          <li key={recommendation.slug}>
            <bdi>{sentenceCase(groupName(recommendation.group))}</bdi>: <bdi>{recommendation.sentence}</bdi>
          </li>
        ))}
      </ul>
    </>
  );
}

function Recommendations({ month }: { month: Month }): VNode {
  return (
    <Part title="Recommended intervals" id="recommendations">
      {month.isReview ? null : (
        <p>
          This month is not one of the fleet file's reviews: nothing is extended in it, however the rules
          stand. Shortening never waits.
        </p>
      )}
      {month.recommendations.length === 0 ? (
        <p>No task has a group in this month's exports.</p>
      ) : (
        <RecommendationTable month={month} />
      )}
      <TooFew month={month} />
    </Part>
  );
}

function Changes({ month }: { month: Month }): VNode {
  const { changes } = month;
  return (
    <Part title="Changed since last month" id="changes">
      {changes === null ? (
        <p>No earlier month is published, so there is nothing to compare with.</p>
      ) : changes.length === 0 ? (
        <p>No recommendation, rule or alert is other than last month.</p>
      ) : (
        <ul>
          {changes.map((change) => (
            <li key={change.what}>
              <bdi>{sentenceCase(change.what)}</bdi>. <span class="quiet">Why: </span>
              <bdi>{change.why}</bdi>.
            </li>
          ))}
        </ul>
      )}
    </Part>
  );
}

function Alert({ trend }: { trend: RemovalTrend }): VNode {
  const last = trend.months.at(-1);
  return (
    <li>
      <a href="trend.html">
        <bdi>{sentenceCase(`${trend.part}, ${trend.environment}`)}</bdi>
      </a>
      : <bdi>{trend.alertWhy ?? "2 of the last 3 months are over the 99 % limit"}</bdi>.
      {last === undefined || last.per1000H === null
        ? null
        : ` Last month: ${counted(last.unscheduled, "unscheduled removal")}, ${boundedRate(last.per1000H)} per 1000 h.`}
    </li>
  );
}

function Alerts({ month }: { month: Month }): VNode {
  const open = month.trends.filter((trend) => trend.alert);
  const unknown = month.trends.filter((trend) => trend.alert === null);
  return (
    <Part title="Alerts" id="alerts">
      {month.trends.length === 0 ? (
        <p>Removals and flying hours are not both exported, so no alert can be raised.</p>
      ) : open.length + unknown.length === 0 ? (
        <p>No removal rate is over its alert level in 2 of the last 3 months.</p>
      ) : (
        <ul>
          {open.map((trend) => (
            <Alert key={`${trend.part} ${trend.environment}`} trend={trend} />
          ))}
          {unknown.map(({ part, environment, alertWhy }) => (
            <li key={`${part} ${environment}`}>
              <bdi>{sentenceCase(part)}</bdi>, <bdi>{environment}</bdi>: whether the removal rate is over its
              alert level is not known; <bdi>{alertWhy}</bdi>.
            </li>
          ))}
        </ul>
      )}
    </Part>
  );
}

/** What has been flown since the last look, and whether that is all that was left. */
function flownSince({ hoursFlownSince: flown, hoursLeft }: WatchLine): string {
  if (flown === null) return "not known";
  if (hoursLeft === null || flown < hoursLeft.estimate) return whole(flown);
  const past = hoursLeft.upper !== null && flown >= hoursLeft.upper ? "95 % point" : "median";
  return `${whole(flown)}: past the ${past}`;
}

function Watch({ month }: { month: Month }): VNode {
  const top = month.watchList.slice(0, WATCHED);
  const rows = top.map((line): readonly Cell[] => [
    <bdi key="serial">{line.serial}</bdi>,
    <bdi key="where">{line.where}</bdi>,
    <bdi key="group">{sentenceCase(groupName(line.group))}</bdi>,
    { show: fixed(line.lastReadingMm, 3), sortBy: line.lastReadingMm },
    {
      show: `${hours(line.hoursAtLastReading)}, ${date(line.lastReadingDay)}`,
      sortBy: line.hoursAtLastReading,
    },
    { show: share(line.chanceByNextLook), sortBy: line.chanceByNextLook },
    line.hoursLeft === null
      ? { show: "–", sortBy: -1 }
      : {
          show: `${hours(line.hoursLeft.estimate)} ${brackets(line.hoursLeft, whole)}`,
          sortBy: line.hoursLeft.estimate,
        },
    { show: flownSince(line), sortBy: line.hoursFlownSince ?? -1 },
  ]);
  return (
    <Part title="Watch list" id="watch">
      {rows.length === 0 ? (
        <p>No fitted component has a reading from which its hours left could be reckoned.</p>
      ) : (
        <>
          <Table
            caption="Fitted components most likely to be over the limit at their next look. Hours left, with 5 % and 95 % points, are counted from the last look, not from now."
            columns={[
              { head: "Serial" },
              { head: "Fitted at" },
              { head: "Group" },
              { head: "Last reading, mm", numeric: true },
              { head: "at" },
              { head: "Over by next look", numeric: true },
              { head: "Hours left then", numeric: true },
              { head: "Flown since, h" },
            ]}
            rows={rows}
            sortable
          />
          <p>
            {month.watchList.length > WATCHED
              ? `These are the first ${WATCHED} of ${whole(month.watchList.length)}; `
              : ""}
            <a href="watchlist.csv">watchlist.csv</a> has them all.
          </p>
        </>
      )}
    </Part>
  );
}

function DataQuality({ month }: { month: Month }): VNode {
  const sum = (pick: (ledger: Month["inputs"][number]) => number): number =>
    month.inputs.reduce((total, ledger) => total + pick(ledger), 0);
  const read = sum((ledger) => ledger.read);
  const rejected = sum((ledger) => ledger.rejected);
  const unassigned = sum((ledger) => ledger.unassigned);
  const repeated = sum((ledger) => ledger.identical + ledger.superseded);
  return (
    <Part title="Data" id="data">
      <p>
        {counted(read, "row")} read from {counted(month.inputs.length, "file")}:{" "}
        {whole(sum((ledger) => ledger.used))} used, {whole(rejected)} rejected (
        {share(read === 0 ? 0 : rejected / read)}), {whole(repeated)} repeated, {whole(unassigned)} with words
        the fleet file doesn't know, {whole(sum((ledger) => ledger.afterAsOf))} after as-of.{" "}
        {counted(month.exclusions.length, "exclusion")} of components or rows.{" "}
        <a href="data.html">What was wrong, and where.</a>
      </p>
    </Part>
  );
}

export function IndexPage({ month }: { month: Month }): VNode {
  return (
    <Page title={monthFinding(month)} month={month} path="index.html">
      <h1>{monthFinding(month)}</h1>
      <ActNow lines={month.actNow} missing={emptyMonth(month)} />
      <Recommendations month={month} />
      <Changes month={month} />
      <Alerts month={month} />
      <Watch month={month} />
      <DataQuality month={month} />
    </Page>
  );
}
