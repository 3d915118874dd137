/** Page two of the officer's page: the rules, what is not known, what comes after the change, and who signs. */
import type { VNode } from "preact";
import type { EvidenceOutcome } from "../../interval/month-result.ts";
import { dateWords } from "../change-words.ts";
import { rulesOf, sentenceCase } from "../group-name.ts";
import { Part } from "../layout.tsx";
import { counted, date, fixed, hours, share, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";
import type { OfficerProps } from "./interval-proposal.tsx";
import { WhatIfSliders } from "./interval-what-if.tsx";
import { WouldChange } from "./interval-would-change.tsx";

const Outcome = ({ rule }: { rule: EvidenceOutcome }): VNode => (
  <span class={`outcome-${rule.outcome.replace(" ", "-")}`}>{rule.outcome}</span>
);

const Found = ({ rule }: { rule: EvidenceOutcome }): VNode => (
  <>
    <bdi>{rule.found}</bdi>
    {rule.settle === null ? null : (
      <span class="small">
        Settled by: <bdi>{rule.settle}</bdi>
      </span>
    )}
  </>
);

function Evidence({ recommendation }: OfficerProps): VNode {
  const { asked, passed } = rulesOf(recommendation);
  const rows = recommendation.evidence.map((rule): readonly Cell[] => [
    <bdi key="rule">{sentenceCase(rule.rule)}</bdi>,
    <bdi key="needed">{rule.needed}</bdi>,
    <Found key="found" rule={rule} />,
    <Outcome key="outcome" rule={rule} />,
  ]);
  return (
    <Part title="Evidence" kind="page-two across">
      <Table
        kind="evidence"
        caption={`${passed} of ${counted(asked, "rule")} that apply are passed. An extension needs every one; a rule that could not be evaluated counts as failed.`}
        columns={[
          { head: "Rule" },
          { head: "Needed" },
          { head: "Found" },
          { head: "Outcome", unbroken: true },
        ]}
        rows={rows}
      />
    </Part>
  );
}

function NotKnown({ recommendation, month, group }: OfficerProps): VNode {
  const detection = month.fleet.acceptable.detectionReference;
  return (
    <div>
      <h3>What is not known</h3>
      <ul>
        {[...recommendation.notKnown, ...dateWords(group.wearChecks.shape.atDate)].map((line) => (
          <li key={line}>
            <bdi>{line}</bdi>
          </li>
        ))}
        <li>
          {month.fleet.acceptable.detectionChance === null
            ? "The chance that one look sees wear that is there: none is given, so no unsafe risk can be held against it."
            : `The chance of ${share(month.fleet.acceptable.detectionChance)} that one look sees wear that is there is taken from `}
          {month.fleet.acceptable.detectionChance === null ? null : (
            <bdi>{detection ?? "the fleet file, which names no source"}; the exports can't confirm it.</bdi>
          )}
        </li>
      </ul>
    </div>
  );
}

/** What was found since the last extension, against its go-back number and what was predicted. */
function SinceTheChange({ recommendation }: OfficerProps): VNode | null {
  const change = recommendation.sinceChange;
  if (change === null) return null;
  const { stage, predicted, formerH } = change;
  const back = formerH === null ? "the former interval" : hours(formerH);
  return (
    <>
      <li>
        Since the change on {date(change.since)}: {counted(change.finds, "over-limit find")} in{" "}
        {counted(change.looks, "look")} at {hours(recommendation.presentIntervalH)}.{" "}
        {change.reached ? (
          <b>
            The go-back number of {whole(stage.finds)} in the first {whole(stage.looks)} looks is reached: go
            back to {back}.
          </b>
        ) : (
          `Go back to ${back} at ${whole(stage.finds)} in the first ${whole(stage.looks)}; by chance that happens at most ${share(stage.falseAlarm)} of the time if ${share(change.promisedShare)} of looks find one (${change.promisedBy === "decision" ? "as the decision was promised" : "the acceptable share: the decision names none"}).`
        )}
      </li>
      <li>
        {predicted === null
          ? `No prediction to hold this against: ${change.whyNotPredicted}.`
          : `The lives before the change predict ${fixed(predicted.finds, 1)} finds in these looks; so far off or further by chance: ${share(predicted.p)} of the time.`}
      </li>
    </>
  );
}

function AfterTheChange(props: OfficerProps): VNode {
  const { recommendation } = props;
  const proposed = recommendation.goBackProposed;
  return (
    <div>
      <h3>{proposed === null ? "What is watched" : "After the change"}</h3>
      <ul>
        <SinceTheChange {...props} />
        {proposed === null ? null : (
          <li>
            Go back to {hours(recommendation.presentIntervalH)} at{" "}
            {counted(proposed.stage.finds, "over-limit find")} in the first {whole(proposed.stage.looks)}{" "}
            looks. If no more than {share(proposed.promisedShare)} of looks found one, as promised here, so
            many would come by chance at most {share(proposed.stage.falseAlarm)} of the time; later counts,
            over twice as many looks each time, spend half as much. When it is approved, enter “promised:{" "}
            {Number(proposed.promisedShare.toPrecision(2))}” with the decision.
          </li>
        )}
        <li>
          Any reading at or over the unsafe-at limit, or a functional failure: stop and act before the next
          report.
        </li>
        <li>
          Every month: over-limit finds against what was predicted, looks overdue, removal rate, seal gaps.
        </li>
      </ul>
    </div>
  );
}

function Cautions({ month, recommendation }: OfficerProps): VNode {
  const { confidence } = month.fleet.acceptable;
  return (
    <div>
      <h3>Cautions</h3>
      <ul>
        <li>
          This page recommends and changes nothing. The approved maintenance data, the type-certificate holder
          and the approving authority decide; where they ask for less time, less time it is.
        </li>
        <li>
          A bound at {share(confidence)} is too low about once in {whole(1 / (1 - confidence))} times, even if
          the model is right.
        </li>
        {recommendation.basis === "programme" ? null : (
          <li>This task rests on an {recommendation.basis}: no evidence here can extend it.</li>
        )}
        <li>
          It holds for the effectivity above, for looks made as the task says, and for the flying of the past
          months.
        </li>
      </ul>
    </div>
  );
}

const SIGNATURES = ["Prepared by", "Checked by", "Accepted for submission by"] as const;

function Signatures(): VNode {
  return (
    <Part title="Signatures" kind="across sign">
      <div class="signatures">
        {SIGNATURES.map((role) => (
          <p key={role} class="signature">
            <span class="line" />
            {role}
            <span class="under">Name, signature, date</span>
          </p>
        ))}
      </div>
      <div class="authority">
        <h3>Decision of the approving authority</h3>
        <p class="choices">
          <span>
            <i class="tick" />
            Approved
          </span>
          <span>
            <i class="tick" />
            Refused
          </span>
        </p>
        <div class="signatures">
          {["Reference", "Date", "Signature"].map((label) => (
            <p key={label} class="signature">
              <span class="line" />
              <span class="under">{label}</span>
            </p>
          ))}
        </div>
      </div>
    </Part>
  );
}

/** Everything of page two. */
export function EvidencePage(props: OfficerProps): VNode {
  return (
    <>
      <Evidence {...props} />
      <Part title="Limits of this evidence" kind="columns across">
        <NotKnown {...props} />
        <WouldChange {...props} />
        <AfterTheChange {...props} />
        <Cautions {...props} />
      </Part>
      <WhatIfSliders {...props} />
      <Signatures />
    </>
  );
}
