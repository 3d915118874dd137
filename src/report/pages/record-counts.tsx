/** A record's counts: predicted against found, over all and month by month, and the watch list's chances. */
import type { VNode } from "preact";
import type { GroupKey } from "../../records/life.ts";
import type { CountRecord, GroupAfter, Method, PastRecord, TotalRecord } from "../../replay/record-result.ts";
import { bandName } from "../charts/chance-band-chart.ts";
import type { FigureProps } from "../charts/chart.ts";
import { Figure } from "../charts/figure.tsx";
import { groupName, sameGroup, sentenceCase } from "../group-name.ts";
import { Part } from "../layout.tsx";
import { boundedShare, counted, share, whole } from "../number-format.ts";
import { methodName, predictedCount, verdictOf } from "../record-words.ts";
import { type Cell, Table } from "../table.tsx";
import { pValue } from "./p-value.ts";

/** Predicted against found: charts, totals, and each month-end by itself. */
export function PredictedAndFound({
  record,
  figures,
}: {
  readonly record: PastRecord;
  readonly figures: readonly FigureProps[];
}): VNode {
  const { horizonMonths, totals } = record;
  return (
    <Part title="Predicted and found" id="counts">
      <p>
        Each line of evidence, as it stood at a month-end, is asked for the very looks made in the{" "}
        {whole(horizonMonths)} months after it: how likely each was to find its component over the limit, the
        look before having been good. The sum is what it predicts; beside it stands what those looks found.
        Where several fits were open the line counts with the worst of them, as decisions do, so that fewer
        finds than predicted are no surprise, and more are.
      </p>
      {totals.length === 0 ? (
        <p>No look has been made after a month-end that had a line to predict it.</p>
      ) : (
        <>
          <div class="figures">
            {figures.map((figure) => (
              <Figure key={figure.title} {...figure} />
            ))}
          </div>
          <Totals record={record} />
          <ByMonth record={record} />
        </>
      )}
    </Part>
  );
}

function Totals({ record: { totals, fleet } }: { record: PastRecord }): VNode {
  const name = ({ group }: TotalRecord): Cell =>
    group === null ? "All groups" : <bdi key="name">{sentenceCase(groupName(group))}</bdi>;
  return (
    <Table
      sortable
      narrow="scroll"
      caption={`Each look once. From lives: finds, and removals at a look that count as over the limit; from wear: finds, on components followed in the group from the start of their lives. At most: every line at its upper bound (one-sided ${share(fleet.acceptable.confidence)}). p: exact, two-sided, the best estimates taken as true. One group in twenty has p under 0.05 by chance alone.`}
      columns={[
        { head: "Group" },
        { head: "From", unbroken: true },
        { head: "Looks", numeric: true },
        { head: "Predicted", numeric: true },
        { head: "At most", numeric: true },
        { head: "Found", numeric: true },
        { head: "p", numeric: true },
        { head: "Found is" },
      ]}
      rows={totals.map((total): readonly Cell[] => [
        name(total),
        methodName(total.method),
        { show: whole(total.looks), sortBy: total.looks },
        { show: predictedCount(total.predicted), sortBy: total.predicted },
        total.atMost === null ? "no bound" : { show: predictedCount(total.atMost), sortBy: total.atMost },
        { show: whole(total.found), sortBy: total.found },
        { show: pValue(total.p), sortBy: total.p },
        verdictOf(total),
      ])}
    />
  );
}

const groupsOf = ({ months }: PastRecord): readonly GroupKey[] =>
  months
    .flatMap(({ after }) => after.filter(({ looks }) => looks > 0).map(({ group }) => group))
    .filter((group, at, all) => all.findIndex((other) => sameGroup(other, group)) === at)
    .sort((a, b) => (groupName(a) < groupName(b) ? -1 : 1));

function ByMonth({ record }: { record: PastRecord }): VNode {
  return (
    <div class="screen">
      <h3>Each month-end by itself</h3>
      <p>
        Windows of {whole(record.horizonMonths)} months overlap, so a look stands under up to{" "}
        {whole(record.horizonMonths)} month-ends here.
      </p>
      {groupsOf(record).map((group) => (
        <details key={groupName(group)}>
          <summary>
            <bdi>{sentenceCase(groupName(group))}</bdi>
          </summary>
          <GroupMonths record={record} group={group} />
        </details>
      ))}
    </div>
  );
}

function GroupMonths({ record, group }: { record: PastRecord; group: GroupKey }): VNode {
  const rows = record.months.flatMap(({ month, after }) => {
    const own = after.find((one) => sameGroup(one.group, group));
    return own === undefined || own.looks === 0 ? [] : [monthRow(month, own)];
  });
  return (
    <Table
      compact
      narrow="scroll"
      label={`Month-ends of ${groupName(group)}`}
      caption={`Predicted with one-sided ${share(record.fleet.acceptable.confidence)} bounds of what the line expects; p as above.`}
      columns={[
        { head: "Month-end", unbroken: true },
        { head: "Looks", numeric: true },
        { head: "Found over", numeric: true },
        { head: "Removed early", numeric: true },
        { head: "Between looks", numeric: true },
        { head: "From lives", numeric: true },
        { head: "p, lives", numeric: true },
        { head: "From wear", numeric: true },
        { head: "p, wear", numeric: true },
      ]}
      rows={rows}
    />
  );
}

function monthRow(month: string, after: GroupAfter): readonly Cell[] {
  const { looks, found, removedEarly, between, counts } = after;
  const cells = (method: Method): readonly string[] => {
    const count = counts.find((one) => one.method === method);
    return count === undefined ? ["–", "–"] : [expectedText(count), pValue(count.p)];
  };
  return [
    month,
    whole(looks),
    whole(found),
    whole(removedEarly),
    whole(between),
    ...cells("life"),
    ...cells("wear"),
  ];
}

function expectedText({ predicted: { estimate, lower, upper } }: CountRecord): string {
  const bound = (value: number | null) => (value === null ? "no bound" : predictedCount(value));
  return `${predictedCount(estimate)} (${bound(lower)}–${bound(upper)})`;
}

/** The watch list's chances against what was found. */
export function WatchCalibrated({
  record,
  figure,
}: {
  readonly record: PastRecord;
  readonly figure: FigureProps | null;
}): VNode {
  const { watch } = record;
  return (
    <Part title="Watch list" id="watch">
      {watch === null || figure === null ? (
        <p>No component of a watch list has been looked at since.</p>
      ) : (
        <>
          <p>
            {counted(watch.looks, "next look")}, each with its component's chance of being over the limit by
            the fits and readings of the month-end before it, at the hours at which the look was really made.
            The list itself prints the chance at the hours at which the look was due, and begins at 5
            {"\u202f"}%.
          </p>
          <Figure {...figure} />
          <Table
            compact
            narrow="scroll"
            caption={`Exact two-sided ${share(record.fleet.acceptable.confidence)} bounds. All bands together: ${predictedCount(watch.given)} expected, ${whole(watch.over)} over, p ${pValue(watch.p)}.`}
            columns={[
              { head: "Chance given, %", unbroken: true },
              { head: "Looks", numeric: true },
              { head: "Mean chance", numeric: true },
              { head: "Found over", numeric: true },
              { head: "Share found over", numeric: true },
            ]}
            rows={watch.bands.map((band): readonly Cell[] => [
              bandName(band),
              whole(band.looks),
              band.given === null ? "–" : share(band.given),
              whole(band.over),
              band.share === null ? "–" : boundedShare(band.share),
            ])}
          />
        </>
      )}
    </Part>
  );
}
