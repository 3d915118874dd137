/** The annex's table of every risk at every interval, by both methods. */
import type { VNode } from "preact";
import type { Bounded } from "../../interval/month-result.ts";
import type { Rounding } from "../../math/rounded.ts";
import { isUnbounded } from "../group-name.ts";
import { Part } from "../layout.tsx";
import { alignedOnPoint, share, shareAgainst, whole } from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";
import type { OfficerProps } from "./interval-proposal.tsx";

const PERCENT_SIGN = /\u202f%$/;

/** The pair of columns of a risk, in percent: estimates and upper bounds, each aligned on the decimal point. */
function riskColumns(risks: readonly (Bounded | null)[], acceptable: number): readonly (readonly string[])[] {
  const write = (value: number, rounding?: Rounding): string =>
    shareAgainst(value, acceptable, rounding).replace(PERCENT_SIGN, "");
  const estimates = risks.map((risk) => (risk === null ? "–" : write(risk.estimate)));
  const bounds = risks.map((risk) => {
    if (risk === null) return "–";
    return risk.upper === null ? "none" : write(risk.upper, "up");
  });
  return [alignedOnPoint(estimates), alignedOnPoint(bounds)];
}

/** Estimates and upper bounds at each interval of the grid. */
export function Risks({ recommendation, month }: OfficerProps): VNode {
  const { acceptable } = month.fleet;
  const { risks } = recommendation;
  if (isUnbounded(recommendation))
    return (
      <Part title="Risk at every interval">
        <p>Too few data for any bound; estimates alone are not shown.</p>
      </Part>
    );
  const columns = [
    ...riskColumns(
      risks.map((risk) => risk.overLimitPerInspection.life),
      acceptable.overLimitPerInspection,
    ),
    ...riskColumns(
      risks.map((risk) => risk.overLimitPerInspection.wear),
      acceptable.overLimitPerInspection,
    ),
    ...riskColumns(
      risks.map((risk) => risk.unsafeBeforeSeen),
      acceptable.unsafeBeforeSeen,
    ),
  ];
  const rows = risks.map((risk, at): readonly Cell[] => [
    whole(risk.intervalH),
    ...columns.map((column) => column[at]),
  ]);
  const head = (name: string) => ({ head: name, numeric: true });
  return (
    <Part title="Risk at every interval">
      <Table
        narrow="scroll"
        caption={`For looks as late as the task allows. Upper bounds are one-sided at ${share(acceptable.confidence)}. Acceptable: ${share(acceptable.overLimitPerInspection)} over limit at a look; ${share(acceptable.unsafeBeforeSeen)}, of those that reach the limit, unsafe before seen.`}
        columns={[
          head("Interval, h"),
          head("Over limit by lives, %"),
          head("its bound"),
          head("Over limit by wear, %"),
          head("its bound "),
          head("Unsafe before seen, %"),
          head("its bound  "),
        ]}
        rows={rows}
      />
    </Part>
  );
}
