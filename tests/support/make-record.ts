/** A replay's result as page and file tests draw on it: two groups, four month-ends, one of each kind of outcome. */
import type {
  GrantedRecord,
  GroupAfter,
  PastAnswer,
  PastMonth,
  PastRecord,
  TotalRecord,
} from "../../src/replay/record-result.ts";
import { monthEnd } from "../../src/units.ts";
import { dayOfText } from "./make-exports.ts";
import { makeFleetSettings } from "./make-fleet-settings.ts";

const SANDY = { part: "grip bearing", environment: "sandy", standard: "plain" };
const TEMPERATE = { part: "grip bearing", environment: "temperate", standard: "shielded" };
const AS_OF = dayOfText("2026-03-31");

const answer = (over: Partial<PastAnswer> = {}): PastAnswer => ({
  task: "grip bearing wear check",
  group: SANDY,
  basis: "programme",
  presentIntervalH: 200,
  answer: "shorten",
  row: 1,
  recommendedIntervalH: 150,
  candidateH: 150,
  longestByBoundH: 150,
  governing: "over limit per inspection",
  failed: ["review", "direct count"],
  ...over,
});

const longer: Partial<PastAnswer> = {
  group: TEMPERATE,
  presentIntervalH: 400,
  answer: "keep",
  row: 6,
  recommendedIntervalH: 400,
  candidateH: 500,
  longestByBoundH: 550,
  failed: ["review"],
};

const after = (over: Partial<GroupAfter> = {}): GroupAfter => ({
  group: SANDY,
  looks: 40,
  found: 6,
  removedEarly: 1,
  between: 2,
  counts: [
    {
      method: "life",
      looks: 40,
      predicted: { estimate: 7.5, lower: 5.2, upper: 10.4 },
      found: 7,
      p: 0.96,
    },
    { method: "wear", looks: 36, predicted: { estimate: 5.9, lower: 3.8, upper: null }, found: 6, p: 0.99 },
  ],
  ...over,
});

const month = (day: string, over: Partial<PastMonth> = {}): PastMonth => {
  const asOf = monthEnd(dayOfText(day));
  return {
    month: day.slice(0, 7),
    asOf,
    isReview: false,
    missing: [],
    files: 12,
    answers: [answer(), answer(longer)],
    until: AS_OF,
    after: [
      after(),
      after({ group: TEMPERATE, looks: 20, found: 0, removedEarly: 0, between: 0, counts: [] }),
    ],
    ...over,
  };
};

const granted = (over: Partial<GrantedRecord> = {}): GrantedRecord => ({
  task: "grip bearing wear check",
  group: TEMPERATE,
  fromH: 400,
  toH: 500,
  month: "2025-12",
  asOf: dayOfText("2025-12-31"),
  months: 4,
  kind: "would pass",
  failed: ["review"],
  spacingH: 550,
  predicted: { estimate: 0.04, lower: 0.02, upper: 0.08 },
  acceptable: 0.1,
  looks: {
    over: 2,
    overCarriedOn: 1,
    below: 10,
    belowCarriedOn: 6,
    failedBefore: 1,
    notKnown: 1,
    leftBefore: 2,
    pastUnsafe: 1,
    share: { estimate: 0.2, lower: 0.057, upper: 0.437 },
  },
  made: { looks: 20, over: 0, share: { estimate: 0, lower: 0, upper: 0.168 } },
  ...over,
});

const total = (over: Partial<TotalRecord>): TotalRecord => ({
  group: null,
  method: "life",
  looks: 40,
  predicted: 7.5,
  atMost: 10.4,
  found: 7,
  p: 0.96,
  ...over,
});

export function makeRecord(over: Partial<PastRecord> = {}): PastRecord {
  const nothing = { looks: 0, over: 0, given: null, share: null };
  return {
    fleet: makeFleetSettings(),
    month: "2026-03",
    asOf: AS_OF,
    program: "rotorwear test",
    settingsSha256: "ab".repeat(32),
    monthsAsked: 4,
    horizonMonths: 6,
    inputs: [{ file: "exports/wear-2026-03.csv", kind: "wear", sha256: "cd".repeat(32), exported: AS_OF }],
    undated: ["installed"],
    months: [
      month("2025-12-01", { missing: ["gaps"], answers: [answer({ failed: ["review"] }), answer(longer)] }),
      month("2026-01-01"),
      month("2026-02-01", {
        answers: [
          answer({ answer: "not enough evidence", row: 2, recommendedIntervalH: 200, candidateH: null }),
          answer({ ...longer, answer: "extend", row: 5, recommendedIntervalH: 500, failed: [] }),
        ],
      }),
      month("2026-03-01", { after: [], answers: [answer({ recommendedIntervalH: null }), answer(longer)] }),
    ],
    skipped: [{ month: "2025-11", why: "no export of looks or removals was there yet" }],
    totals: [
      total({}),
      total({ method: "wear", looks: 36, predicted: 2.1, atMost: null, found: 6, p: 0.021 }),
      total({ group: SANDY }),
      total({ group: SANDY, method: "wear", looks: 36, predicted: 2.1, atMost: null, found: 6, p: 0.021 }),
    ],
    monthly: ["2026-01", "2026-02", "2026-03"].flatMap((name, i) => [
      { month: name, method: "life" as const, looks: 13 + i, predicted: 2.5, variance: 2, found: i + 1 },
      { month: name, method: "wear" as const, looks: 12, predicted: 0.7, variance: 0.6, found: 2 },
    ]),
    watch: {
      looks: 30,
      given: 4.1,
      over: 5,
      p: 0.7,
      bands: [
        {
          from: 0,
          to: 0.02,
          looks: 20,
          over: 0,
          given: 0.001,
          share: { estimate: 0, lower: 0, upper: 0.168 },
        },
        { from: 0.02, to: 0.05, ...nothing },
        { from: 0.05, to: 0.1, ...nothing },
        { from: 0.1, to: 0.3, ...nothing },
        {
          from: 0.3,
          to: 1,
          looks: 10,
          over: 5,
          given: 0.4,
          share: { estimate: 0.5, lower: 0.187, upper: 0.813 },
        },
      ],
    },
    granted: [
      granted(),
      granted({
        kind: "bounds held, rules failed",
        failed: ["review", "lives"],
        toH: 550,
        predicted: null,
        looks: {
          ...granted().looks,
          ...{
            over: 0,
            overCarriedOn: 0,
            below: 0,
            belowCarriedOn: 0,
            failedBefore: 0,
            notKnown: 0,
            leftBefore: 0,
          },
          ...{ pastUnsafe: null, share: null },
        },
        made: { looks: 0, over: 0, share: null },
      }),
    ],
    ...over,
  };
}
