/** The annex's word on the life fit: what else fits, where it leaves the lives, who moves it, shortcuts, and failure modes. */
import type { VNode } from "preact";
import type { GroupModes, LifeChecks } from "../../interval/life-findings.ts";
import type { Bounded } from "../../interval/month-result.ts";
import type { FigureProps } from "../charts/chart.ts";
import { Figure } from "../charts/figure.tsx";
import { sentenceCase } from "../group-name.ts";
import { Part } from "../layout.tsx";
import {
  boundedHours,
  boundedPlain,
  brackets,
  counted,
  fixed,
  hours,
  listed,
  percent,
  share,
  THIN,
  whole,
} from "../number-format.ts";
import { type Cell, Table } from "../table.tsx";
import type { OfficerProps } from "./interval-proposal.tsx";

function alternativeText({ alternative }: LifeChecks): string {
  if (alternative === null) return "no other distribution could be set against it";
  const { family, aicDifference, weibullShare, share: other, spacingH } = alternative;
  const better =
    aicDifference < 0
      ? `it fits better (AIC ${fixed(-aicDifference, 1)} lower)`
      : `it fits no better (AIC ${fixed(aicDifference, 1)} higher)`;
  return `${family}: ${better}; over limit per look, with looks ${hours(spacingH)} apart (the tolerance used up), would be ${share(other)} instead of ${share(weibullShare)}`;
}

function curveText({ curve }: LifeChecks): string {
  if (curve === null) return "the lives give no curve with bounds to hold it against";
  const { points, outside, greatestDistance, atHours, agrees } = curve;
  const chance = agrees ? "no more than chance may put there" : "more than chance would put there";
  return `${agrees ? "agrees" : "does not agree"} with the curve that the lives give by themselves: outside its ${share(0.95)} bounds at ${whole(outside)} of ${counted(points, "point")}, ${chance} (one point in 20, and two standard errors of that); farthest at ${hours(atHours)}, by ${fixed(100 * greatestDistance, 0)} percentage points`;
}

function influenceText({ influence }: LifeChecks): string {
  const named = influence.map(({ kind, name, lives, lifeRatio }) => {
    const who =
      kind === "aircraft" ? `aircraft ${name} (${counted(lives, "life", "lives")})` : `component ${name}`;
    if (lifeRatio === null) return `${who}: nothing can be fitted`;
    const percents = Math.round(100 * Math.abs(lifeRatio - 1));
    const change = `${percents}${THIN}% ${lifeRatio > 1 ? "longer" : "shorter"}`;
    return `${who}: ${percents === 0 ? `less than 1${THIN}% either way` : change}`;
  });
  return named.length === 0 ? "no life has an event" : `without ${listed(named)}`;
}

/** How far the life fit can be trusted; nothing where there is none. */
export function LifeTrust({ group }: OfficerProps): VNode | null {
  const { lifeChecks: checks } = group;
  if (checks === null) return null;
  return (
    <Part title="Trust in the life fit">
      <dl class="facts">
        <dt>Best other</dt>
        <dd>{sentenceCase(alternativeText(checks))}.</dd>
        <dt>The curve</dt>
        <dd>It {curveText(checks)}.</dd>
        <dt>10 % life</dt>
        <dd>
          <bdi>Moved most: {influenceText(checks)}.</bdi>
        </dd>
        {checks.shortcuts.length === 0 ? null : (
          <>
            <dt>Shortcuts</dt>
            <dd>
              What they would have said of it; none is used.
              <ul>
                {checks.shortcuts.map(({ sentence }) => (
                  <li key={sentence}>{sentence}</li>
                ))}
              </ul>
            </dd>
          </>
        )}
      </dl>
    </Part>
  );
}

const modeRow = ({
  mode,
  events,
  chance,
  chanceAlone,
  shape,
  tenPercentHours,
  why,
}: GroupModes["modes"][number]): readonly Cell[] => [
  <bdi key="mode">{mode}</bdi>,
  whole(events),
  boundedPercent(chance),
  percent(chanceAlone),
  shape === null ? (why ?? "not fitted") : boundedPlain(shape, 1),
  tenPercentHours === null ? "–" : boundedHours(tenPercentHours),
];

/** "31 (22–40)": the column's head has the unit. */
const boundedPercent = (chance: Bounded): string =>
  chance.lower === null && chance.upper === null
    ? percent(chance.estimate)
    : `${percent(chance.estimate)} ${brackets(chance, percent)}`;

/** What components came off for, each mode competing with the others. */
export function Modes(props: OfficerProps & { readonly modeFigure: FigureProps | null }): VNode {
  const { modes, atHours, givenHours } = props.group.modes;
  const given = givenHours > 0 ? `, given that ${hours(givenHours)} were reached` : "";
  return (
    <Part title="Failure modes">
      {modes.length === 0 ? (
        <p>No component was found over the limit or came off for a cause.</p>
      ) : (
        <>
          <Table
            caption={`Chance that a component is found so by ${hours(atHours)}${given}. One mode takes off components that another would have: the chance “alone” leaves that out and is too high. Weibull of each mode with the others as censoring. Bounds are two-sided at ${share(props.month.fleet.acceptable.confidence)}; components count as independent of each other.`}
            columns={[
              { head: "Mode" },
              { head: "Events", numeric: true },
              { head: "Chance, %", numeric: true },
              { head: "Alone, %", numeric: true },
              { head: "Shape", numeric: true },
              { head: "10 % by", numeric: true },
            ]}
            rows={modes.map(modeRow)}
          />
          {props.modeFigure === null ? null : <Figure {...props.modeFigure} />}
        </>
      )}
    </Part>
  );
}
