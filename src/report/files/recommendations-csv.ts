/** recommendations.csv: one row a task and group, with the risks at the interval that is recommended. */
import type { Bounded, Month, Recommendation } from "../../interval/month-result.ts";
import { risksAt, rulesOf } from "../group-name.ts";
import { type CsvColumn, columnTable, csvText } from "./csv-table.ts";

const risk = (recommendation: Recommendation) =>
  risksAt(recommendation, recommendation.recommendedIntervalH ?? recommendation.presentIntervalH);

const bounds = (
  head: string,
  pick: (recommendation: Recommendation) => Bounded | null | undefined,
): readonly CsvColumn<Recommendation>[] => [
  { head, value: (row) => pick(row)?.estimate ?? null },
  { head: `${head}_upper`, value: (row) => pick(row)?.upper ?? null },
];

const COLUMNS: readonly CsvColumn<Recommendation>[] = [
  { head: "task", value: (row) => row.task },
  { head: "part", value: (row) => row.group.part },
  { head: "environment", value: (row) => row.group.environment },
  { head: "standard", value: (row) => row.group.standard },
  { head: "basis", value: (row) => row.basis },
  { head: "present_interval_h", value: (row) => row.presentIntervalH },
  { head: "recommendation", value: (row) => row.recommendation },
  { head: "recommended_interval_h", value: (row) => row.recommendedIntervalH },
  { head: "candidate_h", value: (row) => row.candidateH },
  { head: "row", value: (row) => row.row },
  { head: "governing", value: (row) => row.governing },
  ...bounds("over_limit_per_inspection_life", (row) => risk(row)?.overLimitPerInspection.life),
  ...bounds("over_limit_per_inspection_wear", (row) => risk(row)?.overLimitPerInspection.wear),
  ...bounds("unsafe_before_seen", (row) => risk(row)?.unsafeBeforeSeen),
  { head: "rules_asked", value: (row) => rulesOf(row).asked },
  { head: "rules_passed", value: (row) => rulesOf(row).passed },
  { head: "rules_failed", value: (row) => rulesOf(row).failed.join("; ") },
  { head: "act_now", value: (row) => row.actNow.length },
  { head: "sentence", value: (row) => row.sentence },
];

export const recommendationsCsv = async (month: Month): Promise<string> =>
  csvText(await columnTable(month.recommendations, COLUMNS));
