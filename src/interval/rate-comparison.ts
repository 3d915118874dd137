/**
 * Environments and standards of one part compared in one model, so that a component that moved contributes its hours to
 * each: rates adjusted for each other and for aircraft, and how many times the slowest each is, with bounds.
 */
import type { Life } from "../records/life.ts";
import { aircraftOfLives, hoursByPiece, type WholeLife, wholeLives } from "../records/whole-lives.ts";
import { fitJointModel } from "../wear/joint-model.ts";
import type { JointTable } from "../wear/joint-table.ts";
import type { Bounded } from "./month-result.ts";

export interface ComparedRate {
  readonly environment: string;
  readonly standard: string;
  /** Hours flown so by the components compared, to their last readings. */
  readonly hours: number;
  readonly ratePer1000H: Bounded;
  /** Rate over that of the slowest; null for the slowest itself, and where the slowest shows no rise. */
  readonly timesSlowest: Bounded | null;
}

export type RateComparison =
  | {
      readonly kind: "fitted";
      readonly components: number;
      readonly aircraft: number;
      readonly readings: number;
      /** Components with hours in more than one environment. */
      readonly moved: number;
      /** Spread of rates between aircraft (SD), mm per 1000 h. */
      readonly aircraftSdPer1000H: number;
      /** Fastest first. */
      readonly rates: readonly ComparedRate[];
      /** Environments and standards with too few components to be compared. */
      readonly leftOut: readonly string[];
    }
  | { readonly kind: "none"; readonly why: string };

/** Fewest components with hours in an environment and standard for it to be compared. */
const FEWEST_COMPONENTS = 3;

/** @param lives of one part */
export function compareRates(lives: readonly Life[], confidence: number): RateComparison {
  const whole = wholeLives(lives).map(firstStandardOnly);
  const { kept, leftOut } = withoutRareCells(whole);
  const cells = new Set(kept.flatMap(({ pieces }) => pieces.map(cellName)));
  if (cells.size < 2) return { kind: "none", why: "only one environment and standard has enough components" };
  const table = jointTable(kept);
  const model = fitJointModel(table, { confidence, slopes: "in proportion" });
  if (model.kind !== "fitted") return { kind: "none", why: model.why };
  const slowest = model.rates.reduce(
    (least, rate, k) => (rate.rateMmPer1000Hours < model.rates[least]!.rateMmPer1000Hours ? k : least),
    0,
  );
  const rates = model.rates.map((rate, k): ComparedRate => {
    const { environment, standard, hours, rateMmPer1000Hours: estimate, lower, upper } = rate;
    const rises = model.rates[slowest]!.rateMmPer1000Hours > 0;
    return {
      environment,
      standard,
      hours,
      ratePer1000H: { estimate, lower, upper },
      timesSlowest: k === slowest || !rises ? null : model.ratio(k, slowest),
    };
  });
  return {
    kind: "fitted",
    components: model.components,
    aircraft: model.aircraft,
    readings: model.readings,
    moved: kept.filter(({ pieces }) => pieces.length > 1).length,
    aircraftSdPer1000H: model.aircraftRateSd,
    rates: rates.sort((a, b) => b.ratePer1000H.estimate - a.ratePer1000H.estimate),
    leftOut,
  };
}

const cellName = ({ group }: Life): string => `${group.environment}, ${group.standard}`;

/** A component is compared up to a change of its standard: what it wore before is the other standard's. */
function firstStandardOnly(life: WholeLife): WholeLife {
  const [first, ...rest] = life.pieces;
  const change = rest.findIndex(({ group }) => group.standard !== first.group.standard);
  return change < 0 ? life : { ...life, pieces: [first, ...rest.slice(0, change)] };
}

function withoutRareCells(lives: readonly WholeLife[]): { kept: WholeLife[]; leftOut: string[] } {
  const read = lives.filter(({ pieces }) => pieces.some(({ readingHours }) => readingHours.length > 0));
  const counts = new Map<string, number>();
  for (const { pieces } of read)
    for (const name of new Set(pieces.map(cellName))) counts.set(name, (counts.get(name) ?? 0) + 1);
  const leftOut = [...counts].filter(([, count]) => count < FEWEST_COMPONENTS).map(([name]) => name);
  const rare = new Set(leftOut);
  return {
    kept: read.filter(({ pieces }) => pieces.every((piece) => !rare.has(cellName(piece)))),
    leftOut: leftOut.sort(),
  };
}

function jointTable(lives: readonly WholeLife[]): JointTable {
  const distinct = (pick: (life: Life) => string) =>
    [...new Set(lives.flatMap(({ pieces }) => pieces.map(pick)))].sort();
  const environments = distinct(({ group }) => group.environment);
  const standards = distinct(({ group }) => group.standard);
  const aircraft = aircraftOfLives(lives);
  const rows = lives.flatMap((life, component) =>
    life.pieces.flatMap(({ readingHours, readingWearMm }) =>
      readingHours.map((hours, k) => ({ life, component, hours, wearMm: readingWearMm[k]! })),
    ),
  );
  const hoursIn = environments.map(() => new Float64Array(rows.length));
  for (const [row, { life, hours }] of rows.entries()) {
    for (const [k, flown] of hoursByPiece(life, hours).entries())
      hoursIn[environments.indexOf(life.pieces[k]!.group.environment)]![row]! += flown;
  }
  return {
    rows: rows.length,
    component: Int32Array.from(rows, ({ component }) => component),
    aircraft: Int32Array.from(rows, ({ component }) => aircraft[component]!),
    standard: Int32Array.from(rows, ({ life }) => standards.indexOf(life.pieces[0].group.standard)),
    hoursIn,
    wearMm: Float64Array.from(rows, ({ wearMm }) => wearMm),
    environments,
    standards,
  };
}
