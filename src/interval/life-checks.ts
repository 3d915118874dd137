/** How far a group's life fit can be trusted: what else fits, where the curve leaves the lives, who moves it, and shortcuts. */
import { type AlternativeRisk, alternativeRisk, curveCheck, influences } from "../life/fit-checks.ts";
import { naiveViews } from "../life/naive.ts";
import type { SurvivalOutcome } from "../life/survival-curve.ts";
import type { FittedWeibull } from "../life/weibull-fit.ts";
import { aircraftNumbers } from "../records/event-table.ts";
import type { LifeTable } from "../records/life-table.ts";
import type { GroupEvidence } from "./evidence.ts";
import type { LifeChecks } from "./life-findings.ts";
import { overLimitShare } from "./over-limit-share.ts";

/** Lives and aircraft named as moving the 10 % life most. */
const NAMED = 3;

/**
 * @param spacingH  hours between looks at the present interval, lateness included; null where no task covers the group
 * @param serials   of each component number
 */
export function lifeChecks(
  evidence: GroupEvidence,
  fit: FittedWeibull,
  table: LifeTable,
  curve: SurvivalOutcome,
  spacingH: number | null,
  serials: readonly string[],
): LifeChecks {
  const { modelled, families, greatestAgeH } = evidence;
  const other =
    spacingH === null
      ? null
      : alternativeRisk(families(), (survival) => overLimitShare(survival, spacingH, greatestAgeH));
  const checked = curveCheck(fit, table, 0.95, curve);
  return {
    alternative: other === null || spacingH === null ? null : alternativeOf(other, spacingH),
    curve: checked,
    influence: influenceOf(evidence, fit, table, serials),
    shortcuts: naiveViews(table, {
      hoursFlown: Float64Array.from(modelled, ({ lastHours }) => lastHours),
    }).map(({ sentence, lifeRatio }) => ({ sentence, lifeRatio })),
  };
}

const alternativeOf = (
  { best, aicDifference, weibullRisk, alternativeRisk: share }: AlternativeRisk,
  spacingH: number,
): NonNullable<LifeChecks["alternative"]> => ({
  family: best.family,
  aicDifference,
  spacingH,
  weibullShare: weibullRisk,
  share,
});

/** An aircraft with a single life says no more than that life. */
function influenceOf(
  { modelled }: GroupEvidence,
  fit: FittedWeibull,
  table: LifeTable,
  serials: readonly string[],
): LifeChecks["influence"] {
  const { names } = aircraftNumbers(modelled);
  const livesOf = (cluster: number) =>
    table.cluster.reduce((sum, each) => sum + (each === cluster ? 1 : 0), 0);
  return influences(fit, table, 0.1, 2 * NAMED)
    .filter(({ cluster }) => cluster === null || livesOf(cluster) > 1)
    .slice(0, NAMED)
    .map(({ row, cluster, lifeRatio }) => ({
      kind: row === null ? "aircraft" : "life",
      name: row === null ? names[cluster!]! : serials[modelled[row]!.component]!,
      lives: row === null ? livesOf(cluster!) : 1,
      lifeRatio,
    }));
}
