/** method.html: read by an auditor. How is each number made, from what assumptions, and what is not built yet? */
import type { VNode } from "preact";
import type { Month } from "../../interval/month-result.ts";
import { STUDY } from "../../interval/study-result.ts";
import { Page, Part } from "../layout.tsx";
import { counted, share } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";
import { CheckedAgainst, KnownTruth } from "./method-checks.tsx";
import { MethodPart } from "./method-entry.tsx";
import { BORROWED_METHODS } from "./methods-borrowed.tsx";
import { LIFE_METHODS } from "./methods-lives.tsx";
import { MODEL_METHODS } from "./methods-models.tsx";
import { RISK_METHODS } from "./methods-risks.tsx";
import { TREND_METHODS } from "./methods-trend.tsx";
import { VERY_LARGE_METHODS } from "./methods-very-large.tsx";
import { WEAR_METHODS } from "./methods-wear.tsx";
import { Settings } from "./settings.tsx";

const METHODS = [
  ...[...MODEL_METHODS, ...LIFE_METHODS, ...WEAR_METHODS],
  ...[...VERY_LARGE_METHODS, ...BORROWED_METHODS, ...RISK_METHODS, ...TREND_METHODS],
];

const DECISION_TABLE = [
  [
    "The lower bound of a risk, or of the functional-failure rate, is over the acceptable one at the present interval",
    "shorten: established, however few the data",
  ],
  ["Too few data for any bound", "not enough evidence; the approved interval stays"],
  ["The best estimate of a risk is over at the present interval", "shorten"],
  ["The best estimate holds, its bound does not", "keep: not demonstrated"],
  ["A longer interval holds, it is a review, the basis is programme, every rule passes", "extend"],
  ["As before, but something fails", "keep, naming it"],
  ["Otherwise", "keep"],
] as const;

function Decision({ month }: { month: Month }): VNode {
  const rowsInUse = (row: number): string => {
    const count = month.recommendations.filter((recommendation) => recommendation.row === row).length;
    return count === 0 ? "–" : String(count);
  };
  return (
    <Part title="Decision table" id="decision">
      <p>
        The first row that applies gives the answer. An interval is a candidate when it and every shorter one
        on the grid hold, up to the largest change allowed. A shortening goes to the longest interval whose
        bounds hold, else whose estimates hold; where there is none, the page refers to the engineering
        authority. Of several risks that are over, the one furthest over governs (as a ratio to what is
        acceptable), and the sentence names all of them; of risks that hold, the one nearest to what is
        acceptable, after an extension at the new interval.
      </p>
      <Table
        columns={[
          { head: "Row", unbroken: true },
          { head: "Situation" },
          { head: "Recommendation" },
          { head: "This month", numeric: true },
        ]}
        rows={DECISION_TABLE.map(([situation, answer], index): readonly Cell[] => [
          String(index + 1),
          situation,
          answer,
          rowsInUse(index + 1),
        ])}
      />
      <p>
        Extensions are decided in reviews only: a limit tried every month passes by luck in a year or two.
        Shortening never waits. This month {month.isReview ? "is" : "is not"} a review
        {month.fleet.reviews === null ? ", since the fleet file names none" : ""}.
      </p>
    </Part>
  );
}

/** Every rule once, with what it asks. */
function Rules({ month }: { month: Month }): VNode {
  const asked = new Map<string, string>();
  for (const { rule, asks } of month.recommendations.flatMap(({ evidence }) => evidence))
    asked.set(rule, asks);
  return (
    <Part title="Evidence rules" id="rules">
      <p>
        An extension needs every rule that applies. A rule that can't be evaluated fails; only where its
        export is optional does it not apply. They follow the data-quality points of the IMRBPB evolution and
        optimisation guidance (issue paper 44).
      </p>
      {asked.size === 0 ? (
        <p>No recommendation was made, so no rule was asked.</p>
      ) : (
        <Table
          columns={[{ head: "Rule" }, { head: "Asks" }]}
          rows={[...asked].map(([rule, asks]): readonly Cell[] => [
            <bdi key="rule">{rule}</bdi>,
            <bdi key="asks">{asks}</bdi>,
          ])}
        />
      )}
    </Part>
  );
}

const SAFEGUARDS_RULE = "safeguards";
const MISSING = /^not computed: /;

/** Safeguards that this version doesn't compute, from what the rule about them found. */
export function safeguardsMissing(month: Month): readonly string[] {
  const found = month.recommendations
    .flatMap(({ evidence }) => evidence)
    .filter(
      ({ rule, outcome, found }) => rule === SAFEGUARDS_RULE && outcome === "failed" && MISSING.test(found),
    )
    .flatMap(({ found }) => found.replace(MISSING, "").split("; "));
  return [...new Set(found)];
}

function NotBuilt({ month }: { month: Month }): VNode {
  const missing = safeguardsMissing(month);
  return (
    <Part title="Not built yet" id="not-built">
      {missing.length === 0 ? (
        <p>No recommendation of this month names a safeguard that this version lacks.</p>
      ) : (
        <>
          <p>
            {counted(missing.length, "safeguard")} that this version does not compute. Each counts as failed,
            so that nothing is extended on the strength of what is missing:
          </p>
          <ul>
            {missing.map((safeguard) => (
              <li key={safeguard}>
                <bdi>{safeguard}</bdi>
              </li>
            ))}
          </ul>
        </>
      )}
    </Part>
  );
}

/** The whole page. */
export function MethodPage({ month }: { month: Month }): VNode {
  const title = `Every number here is one of ${counted(METHODS.length, "method")}, at ${share(month.fleet.acceptable.confidence)} confidence`;
  return (
    <Page title={title} month={month} path="method.html">
      <h1>{title}</h1>
      <NotBuilt month={month} />
      <Decision month={month} />
      <CheckedAgainst />
      <KnownTruth study={STUDY} />
      {METHODS.map((method) => (
        <MethodPart key={method.id} method={method} />
      ))}
      <Rules month={month} />
      <Settings fleet={month.fleet} />
    </Page>
  );
}
