/**
 * run.json: a month's results for other programs and for next month's comparison, as `rotorwear/run/1`.
 *
 * Numbers have 10 significant digits, so that equal inputs give equal bytes. Bounds of risks are one-sided at the
 * settings' confidence; lengths mm, hours flight hours, rates per 1000 flight hours, days YYYY-MM-DD.
 */
import type { Borrowed } from "../../interval/borrowed-result.ts";
import type {
  ActNowLine,
  GroupResult,
  Month,
  Recommendation,
  RiskAtInterval,
} from "../../interval/month-result.ts";
import { isoDate, published } from "../../units.ts";
import { boundedJson, type Json, keyJson, numberOrNull } from "./json-values.ts";

const actNowJson = (line: ActNowLine): Json => ({
  kind: line.kind,
  ...keyJson(line.group),
  serial: line.serial,
  where: line.where,
  found: line.found,
  limit: line.limit,
  on: isoDate(line.day),
  source: line.source,
});

const riskJson = (risk: RiskAtInterval): Json => ({
  interval_h: published(risk.intervalH),
  over_limit_per_inspection: {
    life: boundedJson(risk.overLimitPerInspection.life),
    wear: boundedJson(risk.overLimitPerInspection.wear),
  },
  unsafe_before_seen: boundedJson(risk.unsafeBeforeSeen),
});

const recommendationJson = (recommendation: Recommendation): Json => ({
  task: recommendation.task,
  ...keyJson(recommendation.group),
  basis: recommendation.basis,
  present_interval_h: published(recommendation.presentIntervalH),
  recommendation: recommendation.recommendation,
  recommended_interval_h: numberOrNull(recommendation.recommendedIntervalH),
  candidate_h: numberOrNull(recommendation.candidateH),
  row: recommendation.row,
  governing: recommendation.governing,
  risks: recommendation.risks.map(riskJson),
  evidence: recommendation.evidence.map(({ rule, outcome, found, needed, settle }) => ({
    rule,
    outcome,
    found,
    needed,
    settle,
  })),
  borrowed: recommendation.borrowed.map(borrowedJson),
});

const borrowedJson = ({ what, from, p, found, refused, alone }: Borrowed): Json => ({
  what,
  from: from.map(keyJson),
  p: numberOrNull(p),
  found,
  refused,
  alone,
});

const lifeJson = ({ life }: GroupResult): Json => ({
  lives: life.lives,
  over_limit: life.events,
  running: life.running,
  late_entries: life.lateEntries,
  weibull:
    life.weibull === null
      ? null
      : {
          shape: boundedJson(life.weibull.shape),
          scale: boundedJson(life.weibull.scaleHours),
          ten_percent_h: boundedJson(life.weibull.tenPercentHours),
          log_likelihood: published(life.weibull.logLikelihood),
        },
  why: life.why,
});

const wearJson = ({ wear }: GroupResult): Json => ({
  components: wear.components,
  readings: wear.readings,
  fit:
    wear.fit === null
      ? null
      : {
          intercept_mm: boundedJson(wear.fit.interceptMm),
          rate_mm_per_1000h: boundedJson(wear.fit.ratePer1000H),
          component_sd: {
            intercept_mm: published(wear.fit.componentSdInterceptMm),
            rate_mm_per_1000h: published(wear.fit.componentSdRate),
          },
          measurement_sd_mm: published(wear.fit.measurementSdMm),
        },
  why: wear.why,
  decided_on:
    wear.decision === null
      ? null
      : {
          family: wear.decision.family,
          median_rate_mm_per_1000h: boundedJson(wear.decision.medianRatePer1000H),
          p99_rate_mm_per_1000h: boundedJson(wear.decision.p99RatePer1000H),
          p99_check: wear.decision.p99Check && {
            components: wear.decision.p99Check.components,
            rate_mm_per_1000h: published(wear.decision.p99Check.ratePer1000H),
          },
        },
  why_not_decided_on: wear.whyNoDecisionFit,
});

const groupJson = (group: GroupResult): Json => ({
  ...keyJson(group.key),
  components: group.components,
  modelled_components: group.modelledComponents,
  aircraft: group.aircraft.length,
  looks: group.looks,
  flight_hours: published(group.flightHours),
  over_limit: group.overLimitEvents,
  early_removals: group.earlyRemovals,
  replace_at_mm: published(group.replaceAtMm),
  unsafe_at_mm: numberOrNull(group.unsafeAtMm),
  life: lifeJson(group),
  wear: wearJson(group),
});

/** The text of run.json. */
export function runJson(month: Month): string {
  const run: Json = {
    schema: "rotorwear/run/1",
    as_of: isoDate(month.asOf),
    program: month.program,
    settings_sha256: month.settingsSha256,
    inputs: month.inputs.map((input) => ({
      file: input.file,
      kind: input.kind,
      sha256: input.sha256,
      read: input.read,
      accepted: input.accepted,
      rejected: input.rejected,
      repeated: input.identical + input.superseded,
    })),
    act_now: month.actNow.map(actNowJson),
    groups: month.groups.map(groupJson),
    recommendations: month.recommendations.map(recommendationJson),
    alerts: month.trends
      .filter((trend) => trend.alert)
      .map(({ part, environment, alertWhy }) => ({ part, environment, why: alertWhy })),
    watch_list: month.watchList.map((line) => ({
      ...keyJson(line.group),
      serial: line.serial,
      chance_by_next_look: published(line.chanceByNextLook),
      hours_flown_since_last_look: line.hoursFlownSince === null ? null : published(line.hoursFlownSince),
    })),
    changes: month.changes === null ? null : month.changes.map(({ what, why }) => ({ what, why })),
  };
  return `${JSON.stringify(run, null, 1)}\n`;
}
