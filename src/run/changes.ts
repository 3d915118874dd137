/** What changed since the month before, and why, in numbers. A changed setting is never mistaken for a changed fleet. */
import type { Change, Month, Recommendation } from "../interval/month-result.ts";
import type { PreviousRun } from "./history.ts";
import { settingChanges } from "./setting-changes.ts";

type Earlier = PreviousRun["run"];
type EarlierRecommendation = Earlier["recommendations"][number];

const nameOf = (one: { part: string; environment: string; standard: string }): string =>
  `${one.part}, ${one.environment}, ${one.standard}`;
const answerOf = (recommendation: string, intervalH: number | null): string =>
  intervalH === null ? recommendation : `${recommendation} ${intervalH} h`;

/**
 * Changes from an earlier run to this month: settings and program first (they explain the rest), then inputs corrected,
 * recommendations, alerts, and the watch list.
 *
 * @param fleetText  this month's fleet file
 */
export function changesSince(previous: PreviousRun, month: Month, fleetText: string): Change[] {
  const settings = settingsChange(previous, month, fleetText);
  const program = programChange(previous, month);
  const besides = [...(settings?.matters ? ["settings"] : []), ...(program === null ? [] : ["program"])];
  const inFleet = [
    ...recommendationChanges(previous, month),
    ...alertChanges(previous.run, month),
    ...watchListChanges(previous.run, month),
  ];
  return [
    ...(settings === null ? [] : [settings.change]),
    ...(program === null ? [] : [program]),
    ...inputChanges(previous.run, month),
    ...inFleet.map((change) => withCaution(change, besides)),
  ];
}

/** What differs in the fleet may come from what was asked of it: each such line says so. */
function withCaution(change: Change, besides: readonly string[]): Change {
  if (besides.length === 0) return change;
  return { ...change, why: `${change.why}; the ${besides.join(" and ")} changed too, and may be why` };
}

const SETTINGS_NAMED = 12;

/** The change of settings; `matters` is false where only comments or layout differ. null: the same fleet file. */
function settingsChange(
  { run, folder, fleetText: before }: PreviousRun,
  month: Month,
  after: string,
): { readonly change: Change; readonly matters: boolean } | null {
  if (run.settings_sha256 === month.settingsSha256) return null;
  const hashes = `${shortHash(run.settings_sha256)} in ${folder}, ${shortHash(month.settingsSha256)} now`;
  if (before === null) {
    const why = `${hashes}; that month's fleet file was not kept, so which settings is not known`;
    return { change: { what: "The fleet file changed", why }, matters: true };
  }
  const lines = settingChanges(before, after);
  if (lines.length === 0) {
    return {
      change: { what: "The fleet file changed in comments or layout only", why: hashes },
      matters: false,
    };
  }
  const more = lines.length > SETTINGS_NAMED ? `; and ${lines.length - SETTINGS_NAMED} more` : "";
  const what = lines.length === 1 ? "A setting changed" : `${lines.length} settings changed`;
  return { change: { what, why: `${lines.slice(0, SETTINGS_NAMED).join("; ")}${more}` }, matters: true };
}

const programChange = ({ run, folder }: PreviousRun, month: Month): Change | null =>
  run.program === month.program
    ? null
    : { what: "The program changed", why: `${run.program} in ${folder}, ${month.program} now` };

const shortHash = (hash: string): string => hash.slice(0, 12);

function inputChanges(run: Earlier, month: Month): Change[] {
  const before = new Map(run.inputs.map((input) => [`${input.kind}\n${input.file}`, input]));
  const changes: Change[] = [];
  for (const input of month.inputs) {
    const key = `${input.kind}\n${input.file}`;
    const earlier = before.get(key);
    before.delete(key);
    if (earlier === undefined || earlier.sha256 === input.sha256) continue;
    changes.push({
      what: `${input.file} has other contents than last month`,
      why: `${earlier.read} rows read then, ${input.read} now; ${earlier.accepted} accepted then, ${input.accepted} now`,
    });
  }
  for (const gone of before.values()) {
    changes.push({
      what: `${gone.file} is no longer there`,
      why: `${gone.accepted} rows were accepted from it last month`,
    });
  }
  return changes;
}

function recommendationChanges({ run, folder }: PreviousRun, month: Month): Change[] {
  const key = (one: { task: string; part: string; environment: string; standard: string }) =>
    JSON.stringify([one.task, one.part, one.environment, one.standard]);
  const before = new Map(run.recommendations.map((one) => [key(one), one]));
  const changes: Change[] = [];
  for (const now of month.recommendations) {
    const id = key({ task: now.task, ...now.group });
    const earlier = before.get(id);
    before.delete(id);
    const change = earlier === undefined ? newRecommendation(now) : changedRecommendation(earlier, now);
    if (change !== null) changes.push(change);
  }
  for (const gone of before.values()) {
    changes.push({
      what: `${nameOf(gone)}: recommendation withdrawn (${gone.task})`,
      why: `${folder} said ${answerOf(gone.recommendation, gone.recommended_interval_h)}; the group or task is no longer there`,
    });
  }
  return changes;
}

const newRecommendation = (now: Recommendation): Change => ({
  what: `${nameOf(now.group)}: new, ${answerOf(now.recommendation, now.recommendedIntervalH)} (${now.task})`,
  why: now.sentence,
});

function changedRecommendation(earlier: EarlierRecommendation, now: Recommendation): Change | null {
  const before = answerOf(earlier.recommendation, earlier.recommended_interval_h);
  const after = answerOf(now.recommendation, now.recommendedIntervalH);
  const sameInterval = earlier.present_interval_h === now.presentIntervalH;
  if (before === after && earlier.row === now.row && sameInterval) return null;
  const reasons: string[] = [];
  if (!sameInterval)
    reasons.push(`approved interval ${earlier.present_interval_h} h then, ${now.presentIntervalH} h now`);
  if (earlier.row !== now.row)
    reasons.push(`row ${earlier.row} of the decision table then, row ${now.row} now`);
  reasons.push(...ruleReasons(earlier, now), now.sentence);
  const what = before === after ? `still ${after}, for another reason` : `${before} → ${after}`;
  return { what: `${nameOf(now.group)}: ${what} (${now.task})`, why: reasons.join("; ") };
}

/** Evidence rules whose outcome is another than last month, with what they found now. */
function ruleReasons(earlier: EarlierRecommendation, now: Recommendation): string[] {
  const before = new Map(earlier.evidence.map((rule) => [rule.rule, rule.outcome]));
  return now.evidence
    .filter((rule) => before.has(rule.rule) && before.get(rule.rule) !== rule.outcome)
    .map(
      (rule) =>
        `${rule.rule}: ${before.get(rule.rule)} then, ${rule.outcome} now (found ${rule.found}, needed ${rule.needed})`,
    );
}

function alertChanges(run: Earlier, month: Month): Change[] {
  const key = (one: { part: string; environment: string }) => JSON.stringify([one.part, one.environment]);
  const before = new Set(run.alerts.map(key));
  const changes: Change[] = [];
  for (const trend of month.trends) {
    const was = before.has(key(trend));
    if (was === trend.alert) continue;
    const where = `${trend.part}, ${trend.environment}`;
    if (trend.alert)
      changes.push({
        what: `${where}: alert raised`,
        why: trend.alertWhy ?? "removals over the alert level",
      });
    else
      changes.push({
        what: `${where}: alert cleared`,
        why: `${trend.months.slice(-3).filter(({ over }) => over).length} of the last 3 months over the alert level; 2 raise it`,
      });
  }
  return changes;
}

function watchListChanges(run: Earlier, month: Month): Change[] {
  const key = (one: { part: string; serial: string }) => JSON.stringify([one.part, one.serial]);
  const before = new Map(run.watch_list.map((line) => [key(line), line]));
  const now = new Map(
    month.watchList.map((line) => [key({ part: line.group.part, serial: line.serial }), line]),
  );
  const entered = [...now].filter(([id]) => !before.has(id)).map(([, line]) => line.serial);
  const left = [...before].filter(([id]) => !now.has(id)).map(([, line]) => line.serial);
  const changes: Change[] = [];
  if (entered.length > 0)
    changes.push({ what: `${entered.length} on the watch list that weren't`, why: someOf(entered) });
  if (left.length > 0) changes.push({ what: `${left.length} off the watch list`, why: someOf(left) });
  return changes;
}

const NAMED = 10;
const someOf = (serials: readonly string[]): string =>
  serials.slice(0, NAMED).join(", ") + (serials.length > NAMED ? ` and ${serials.length - NAMED} more` : "");
