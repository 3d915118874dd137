/** Longer intervals that were proposed, or held by their bounds: what the looks would have found, had they been granted. */
import type { VNode } from "preact";
import type { GrantedRecord, PastRecord } from "../../replay/record-result.ts";
import { groupName, sentenceCase } from "../group-name.ts";
import { Part } from "../layout.tsx";
import {
  boundedShare,
  brackets,
  counted,
  hours,
  listed,
  monthName,
  percent,
  share,
  shareAgainst,
  whole,
} from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";

const KINDS: Readonly<Record<GrantedRecord["kind"], string>> = {
  extend: "Recommended",
  "would pass": "Would have passed at a review",
  "bounds held, rules failed": "Its bounds held, rules failed",
};

const WAITING: ReadonlySet<string> = new Set(["review", "safeguards"]);

/** The whole part. */
export function Granted({ record }: { record: PastRecord }): VNode {
  const { granted, fleet } = record;
  return (
    <Part title="Had they been granted" id="granted">
      {granted.length === 0 ? (
        <p>In no month replayed was a longer interval proposed, nor did one hold by its bounds.</p>
      ) : (
        <>
          <p>
            Each longer interval from the first month-end that had it. Looks are set at the longer spacing,
            flown as late as the task allows, from each component's last look on; what they would have found
            comes from that component's own later readings: read off between two of them, or its own straight
            line carried on past the last. No model has a say in it.
          </p>
          <Table
            caption={`Predicted: over limit per look at the longer interval, the worse line, one-sided ${share(fleet.acceptable.confidence)} bounds. Share: exact, two-sided.`}
            columns={[
              { head: "Interval" },
              { head: "What it was" },
              { head: "Predicted then", numeric: true },
              { head: "Over, of looks known" },
              { head: "Not known" },
              { head: "Really made since" },
            ]}
            rows={granted.map((one): readonly Cell[] => [
              <Interval key="interval" granted={one} />,
              <Kind key="kind" granted={one} />,
              one.predicted === null ? "–" : boundedShare(one.predicted),
              <Found key="found" granted={one} />,
              unknownText(one),
              madeText(one),
            ])}
          />
        </>
      )}
    </Part>
  );
}

function Interval({ granted }: { granted: GrantedRecord }): VNode {
  const { task, group, fromH, toH } = granted;
  return (
    <>
      <bdi>
        {sentenceCase(task)}: {groupName(group)}
      </bdi>
      <span class="small">
        {hours(fromH)} to {hours(toH)}
      </span>
    </>
  );
}

function Kind({ granted: { kind, failed, month, months } }: { granted: GrantedRecord }): VNode {
  const rules = failed.filter((rule) => !WAITING.has(rule));
  return (
    <>
      {KINDS[kind]}
      <span class="small">
        <bdi>
          {rules.length === 0 ? "" : `Failed: ${listed(rules)}. `}
          First at the end of {monthName(month)}, in {counted(months, "month")}.
        </bdi>
      </span>
    </>
  );
}

function Found({ granted: { looks, acceptable } }: { granted: GrantedRecord }): VNode {
  const { over, overCarriedOn, failedBefore, below, belowCarriedOn, pastUnsafe } = looks;
  if (looks.share === null) return <>no look has come due</>;
  const bad = over + overCarriedOn + failedBefore;
  const all = bad + below + belowCarriedOn;
  const passes = looks.share.estimate > acceptable;
  const unsafe =
    pastUnsafe === null || bad === 0 ? "" : ` Past the unsafe-at limit by then: ${whole(pastUnsafe)}.`;
  return (
    <>
      {whole(bad)} of {whole(all)}: {shareAgainst(looks.share.estimate, acceptable)}{" "}
      {brackets(looks.share, percent)}
      <span class="small">
        {passes ? `Over the acceptable ${share(acceptable)}. ` : ""}
        {whole(over + below)} read, {whole(overCarriedOn + belowCarriedOn)} carried on
        {failedBefore === 0 ? "" : `, ${whole(failedBefore)} failed in service before the look`}.{unsafe}
      </span>
    </>
  );
}

function unknownText({ looks: { notKnown, leftBefore } }: GrantedRecord): string {
  const parts = [
    notKnown === 0 ? "" : counted(notKnown, "look"),
    leftBefore === 0 ? "" : `${whole(leftBefore)} left before it`,
  ].filter((part) => part !== "");
  return parts.length === 0 ? "none" : parts.join("; ");
}

function madeText({ made }: GrantedRecord): string {
  if (made.share === null) return "no look";
  return `${whole(made.over)} of ${whole(made.looks)} over: ${boundedShare(made.share)}`;
}
