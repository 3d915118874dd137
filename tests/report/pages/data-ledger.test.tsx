import { renderToString } from "preact-render-to-string";
import { describe, expect, it } from "vitest";
import { LineLedger, RowLedger } from "../../../src/report/pages/data-ledger.tsx";
import { makeMonth } from "../../support/make-month.ts";

const month = makeMonth();
const [wear] = month.inputs;
/** Seven exports of wear and seven of gaps; their rows 1 to 14, the first of them doesn't add up where asked. */
const many = (off: boolean) => ({
  ...month,
  inputs: Array.from({ length: 14 }, (_, at) => {
    const rows = at + 1;
    const accepted = off && at === 0 ? 0 : rows;
    const counts = { read: rows, accepted, rejected: 0, identical: 0, superseded: 0, used: accepted };
    const lines = { lines: rows + 1, headingLines: 1, blankLines: 0, totalsLines: 0, rowLines: rows };
    const kind = at % 2 === 0 ? ("wear" as const) : ("gaps" as const);
    return { ...wear!, file: `${kind}-${at}.csv`, kind, ...counts, ...lines, unassigned: 0, afterAsOf: 0 };
  }),
});
const rendered = (off: boolean) =>
  renderToString(
    <>
      <RowLedger month={many(off)} />
      <LineLedger month={many(off)} />
    </>,
  );
const text = (html: string) => html.replace(/<[^>]+>/g, " ").replace(/\s+/g, " ");

describe("RowLedger and LineLedger of many files", () => {
  it("sum up by kind and in all, the files behind a click", () => {
    const html = rendered(false);
    // 1 + 3 + … + 13 and 2 + 4 + … + 14.
    expect(text(html)).toContain("wear 7 49 49 0 0 0 49 0 0 adds up gaps 7 56 56 0 0 0 56 0 0 adds up");
    expect(text(html)).toContain("all exports 14 105 105 0 0 0 105 0 0 adds up");
    expect(text(html)).toContain("all exports 14 119 14 0 0 105");
    expect(html.match(/<details><summary>Each of the 14 files/g)).toHaveLength(2);
  });

  it("open the files where one doesn't add up", () => {
    const html = rendered(true);
    expect(text(html)).toContain("all exports 14 105 104 0 0 0 104 0 0 1 file of 14 off");
    expect(html).toContain("<details open");
    expect(text(html)).toContain("1 row unaccounted for");
  });

  it("show few files as they are", () => {
    expect(renderToString(<RowLedger month={month} />)).not.toContain("<details");
  });
});
