/** The study's table as the README has it; a test compares. */
import type { Counted, StudyTable } from "../../src/interval/study-table.ts";
import { rounded } from "../../src/math/rounded.ts";

export const STUDY_MARK = {
  begin: "<!-- study table: made by npm run study; a test compares -->",
  end: "<!-- end of the study table -->",
};

/** Of an upper limit: rounded up. */
const percent = (share: number): string => `${rounded(100 * share, 1, "up").toFixed(1)} %`;

const cell = ({ n, of, upper }: Counted): string =>
  of === 0 ? "none asked" : `${n} of ${of} (at most ${percent(upper)})`;

export function studyMarkdown(table: StudyTable | null): string {
  if (table === null)
    return `${STUDY_MARK.begin}\n\nThis version has not been studied yet.\n\n${STUDY_MARK.end}`;
  const rows = [...table.rows, table.all].map(
    ({ kind, fleets, unsafe, everExtended, missed }) =>
      `| ${kind} | ${fleets} | ${cell(unsafe)} | ${cell(everExtended)} | ${cell(missed)} |`,
  );
  const overshoot =
    table.overshoot === null
      ? "Nothing was extended."
      : `At the intervals extended to, the true risk was ${table.overshoot.p95.toFixed(2)} times the acceptable one at the 95th percentile and ${rounded(table.overshoot.largest, 2, "up").toFixed(2)} at most.`;
  return `${STUDY_MARK.begin}

| kind of fleet | fleets | unsafe among the extensions given | ever extended in three years, where any extension is unsafe | risk over twice the acceptable one, and not shortened |
|---|---|---|---|---|
${rows.join("\n")}

Seeds ${table.seeds}, run ${table.runs === 1 ? "once" : `${table.runs} times`}, program ${table.commit}, ${table.date}; limits are Clopper and Pearson's at 95 %. A batch that comes
after the decision can't be seen in any record: it is shown, and left out of the last row. ${overshoot} Of gentle
fleets with 60 components and four years of record whose interval could be half as long again if the rates were known
exactly, ${table.power.n} of ${table.power.of} got an extension; of all fleets whose present interval was truly acceptable, ${table.needless.n} of ${table.needless.of} were told to
shorten it, since the risks count every look as late as it may be and every component as reaching the limit just after one.

${STUDY_MARK.end}`;
}
