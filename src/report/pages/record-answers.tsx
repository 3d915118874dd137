/** What past months recommended, task by task and group by group; months that said the same stand in one row. */
import type { VNode } from "preact";
import type { PastAnswer, PastRecord } from "../../replay/record-result.ts";
import { groupName, sameGroup, sentenceCase } from "../group-name.ts";
import { Part } from "../layout.tsx";
import { counted, hours, listed } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";

/** Months on end with one answer. */
export interface AnswerSpan {
  readonly from: string;
  readonly to: string;
  readonly months: number;
  readonly answer: PastAnswer;
  /** Rules that failed in each of the months, and in some of them. */
  readonly failedInAll: readonly string[];
  readonly failedInSome: readonly string[];
}

interface DatedAnswer {
  readonly month: string;
  readonly answer: PastAnswer;
}

const sameAnswer = (a: PastAnswer, b: PastAnswer): boolean =>
  a.answer === b.answer &&
  a.row === b.row &&
  a.presentIntervalH === b.presentIntervalH &&
  a.recommendedIntervalH === b.recommendedIntervalH &&
  a.candidateH === b.candidateH;

/** Months of one task and group put together where they said the same. */
export function answerSpans(dated: readonly DatedAnswer[]): AnswerSpan[] {
  const runs: DatedAnswer[][] = [];
  for (const one of dated) {
    const run = runs.at(-1);
    if (run !== undefined && sameAnswer(run[0]!.answer, one.answer)) run.push(one);
    else runs.push([one]);
  }
  return runs.map((run) => {
    const rules = [...new Set(run.flatMap(({ answer }) => answer.failed))];
    const inAll = (rule: string) => run.every(({ answer }) => answer.failed.includes(rule));
    return {
      from: run[0]!.month,
      to: run.at(-1)!.month,
      months: run.length,
      answer: run[0]!.answer,
      failedInAll: rules.filter(inAll),
      failedInSome: rules.filter((rule) => !inAll(rule)),
    };
  });
}

function answerText({ answer, presentIntervalH, recommendedIntervalH, row }: PastAnswer): string {
  const present = hours(presentIntervalH);
  switch (answer) {
    case "extend":
      return `Extend ${present} to ${hours(recommendedIntervalH!)}`;
    case "shorten":
      return recommendedIntervalH === null
        ? `Shorten ${present}: no interval was demonstrated`
        : `Shorten ${present} to ${hours(recommendedIntervalH)}`;
    case "keep":
      return row === 4 ? `Keep ${present}, not demonstrated` : `Keep ${present}`;
    case "not enough evidence":
      return `Not enough evidence; ${present} stays`;
  }
}

function failedText({ failedInAll, failedInSome, months }: AnswerSpan): string {
  const some = failedInSome.length === 0 ? "" : `in some months: ${listed(failedInSome)}`;
  if (failedInAll.length === 0) return some === "" ? "none" : some;
  const all = listed(failedInAll);
  return some === "" ? all : `${months > 1 ? "in all: " : ""}${all}; ${some}`;
}

/** The tables, one for each task and group. */
export function PastAnswers({ record }: { record: PastRecord }): VNode {
  const kinds = record.months
    .flatMap(({ answers }) => answers)
    .filter((answer, at, all) => all.findIndex((other) => isSame(other, answer)) === at)
    .sort((a, b) => (nameOf(a) < nameOf(b) ? -1 : 1));
  return (
    <Part title="Answers, month by month" id="answers">
      <p>
        What each month's report would have said with the settings of today's fleet file; of its decisions and
        reviews each month knows those dated by then. Rules are those that an extension has to pass.
      </p>
      {kinds.map((kind) => (
        <div key={nameOf(kind)}>
          <h3>
            <bdi>{nameOf(kind)}</bdi>
          </h3>
          <SpanTable
            spans={answerSpans(
              record.months.flatMap(({ month, answers }) =>
                answers.filter((answer) => isSame(answer, kind)).map((answer) => ({ month, answer })),
              ),
            )}
          />
        </div>
      ))}
    </Part>
  );
}

const nameOf = ({ task, group }: PastAnswer): string => `${sentenceCase(task)}: ${groupName(group)}`;
const isSame = (a: PastAnswer, b: PastAnswer): boolean => a.task === b.task && sameGroup(a.group, b.group);

function SpanTable({ spans }: { spans: readonly AnswerSpan[] }): VNode {
  return (
    <Table
      columns={[
        { head: "Month-ends", unbroken: true },
        { head: "Answer" },
        { head: "Bounds hold to", numeric: true },
        { head: "Rules failed" },
      ]}
      rows={spans.map((span): readonly Cell[] => [
        span.months === 1 ? span.from : `${span.from} to ${span.to} (${counted(span.months, "month")})`,
        answerText(span.answer),
        span.answer.candidateH === null ? "none" : hours(span.answer.candidateH),
        <bdi key="failed">{failedText(span)}</bdi>,
      ])}
    />
  );
}
