/**
 * record.json: a replay's results for other programs, as `rotorwear/record/1`. Numbers have 10 significant digits, days
 * are YYYY-MM-DD, hours flight hours, shares and chances from 0 to 1. Bounds of predicted counts are one-sided at the
 * settings' confidence, bounds of found shares two-sided.
 */
import type {
  CountRecord,
  GrantedRecord,
  PastAnswer,
  PastMonth,
  PastRecord,
  WatchCalibration,
} from "../../replay/record-result.ts";
import { isoDate, published } from "../../units.ts";
import { recordSummary } from "../record-words.ts";
import { boundedJson, type Json, keyJson, numberOrNull } from "./json-values.ts";

const countJson = ({ method, looks, predicted, found, p }: CountRecord): Json => ({
  ...{ method, looks, found },
  predicted: boundedJson(predicted),
  p: published(p),
});

const answerJson = (answer: PastAnswer): Json => ({
  task: answer.task,
  ...keyJson(answer.group),
  basis: answer.basis,
  present_interval_h: published(answer.presentIntervalH),
  recommendation: answer.answer,
  row: answer.row,
  recommended_interval_h: numberOrNull(answer.recommendedIntervalH),
  candidate_h: numberOrNull(answer.candidateH),
  longest_by_bound_h: numberOrNull(answer.longestByBoundH),
  governing: answer.governing,
  failed: answer.failed,
});

const monthJson = (month: PastMonth): Json => ({
  month: month.month,
  as_of: isoDate(month.asOf),
  review: month.isReview,
  files: month.files,
  missing_exports: month.missing,
  recommendations: month.answers.map(answerJson),
  until: isoDate(month.until),
  after: month.after.map(({ group, counts, looks, found, removedEarly, between }) => ({
    ...keyJson(group),
    ...{ looks, found, removed_early: removedEarly, between_looks: between },
    predicted: counts.map(countJson),
  })),
});

const watchJson = ({ looks, given, over, p, bands }: WatchCalibration): Json => ({
  ...{ looks, over },
  given: published(given),
  p: published(p),
  bands: bands.map((band) => ({
    ...{ from: band.from, to: band.to, looks: band.looks, over: band.over },
    given: numberOrNull(band.given),
    share: boundedJson(band.share),
  })),
});

const grantedJson = (granted: GrantedRecord): Json => ({
  task: granted.task,
  ...keyJson(granted.group),
  from_h: published(granted.fromH),
  to_h: published(granted.toH),
  as_of: isoDate(granted.asOf),
  months: granted.months,
  kind: granted.kind,
  failed: granted.failed,
  spacing_h: published(granted.spacingH),
  predicted: boundedJson(granted.predicted),
  acceptable: published(granted.acceptable),
  looks: {
    over: granted.looks.over,
    over_carried_on: granted.looks.overCarriedOn,
    below: granted.looks.below,
    below_carried_on: granted.looks.belowCarriedOn,
    failed_before: granted.looks.failedBefore,
    not_known: granted.looks.notKnown,
    left_before: granted.looks.leftBefore,
    past_unsafe: granted.looks.pastUnsafe,
    share: boundedJson(granted.looks.share),
  },
  made: {
    looks: granted.made.looks,
    over: granted.made.over,
    share: boundedJson(granted.made.share),
  },
});

/** The file's text. */
export function recordJson(record: PastRecord): string {
  const value: Json = {
    schema: "rotorwear/record/1",
    month: record.month,
    as_of: isoDate(record.asOf),
    program: record.program,
    settings_sha256: record.settingsSha256,
    confidence: published(record.fleet.acceptable.confidence),
    months_asked: record.monthsAsked,
    horizon_months: record.horizonMonths,
    summary: recordSummary(record),
    inputs: record.inputs.map(({ file, kind, sha256, exported }) => ({
      ...{ file, kind, sha256 },
      exported: exported === null ? null : isoDate(exported),
    })),
    undated_exports: record.undated,
    skipped: record.skipped.map(({ month, why }) => ({ month, why })),
    totals: record.totals.map(({ group, method, looks, predicted, atMost, found, p }) => ({
      group: group === null ? null : keyJson(group),
      ...{ method, looks, found },
      predicted: published(predicted),
      predicted_at_most: numberOrNull(atMost),
      p: published(p),
    })),
    by_month: record.monthly.map(({ month, method, looks, predicted, variance, found }) => ({
      ...{ month, method, looks, found },
      predicted: published(predicted),
      variance: published(variance),
    })),
    watch_list: record.watch === null ? null : watchJson(record.watch),
    months: record.months.map(monthJson),
    granted: record.granted.map(grantedJson),
  };
  return `${JSON.stringify(value, null, 2)}\n`;
}
