/** The invented month with hostile text in every field that an export or a fleet file can fill. */
import type { Month } from "../../src/interval/month-result.ts";
import type { PastRecord } from "../../src/replay/record-result.ts";
import { makeRecord } from "../support/make-record.ts";
import { fullMonth } from "./full-month.ts";

/** Markup, quotes, a script, direction marks, and 300 characters without a break. */
export const HOSTILE = `<script>alert(1)</script><img src=x onerror=alert(1)>"'&amp;\u202E\u2067{{x}}]]>-->${"W".repeat(300)}`;

/** Members that the program fills with words of its own; everything else can come from outside. */
const OUR_OWN = new Set([
  "slug",
  "month",
  "quarter",
  "kind",
  "recommendation",
  "answer",
  "outcome",
  "state",
  "end",
  "basis",
  "method",
  "code",
  "program",
  "settingsSha256",
  "sha256",
  "family",
  "clock",
  "encoding",
]);

function hostile(value: unknown, key: string): unknown {
  if (typeof value === "string") return OUR_OWN.has(key) ? value : `${value}${HOSTILE}`;
  if (value === null || typeof value !== "object") return value;
  if (Array.isArray(value)) return value.map((one) => hostile(one, key));
  if (value instanceof Map)
    return new Map([...value].map(([word, means]) => [hostile(word, ""), hostile(means, key)]));
  return Object.fromEntries(Object.entries(value).map(([name, held]) => [name, hostile(held, name)]));
}

export function hostileMonth(): Month {
  const month = hostile(fullMonth(), "") as Month;
  // Months of reviews are checked by the fleet file's reader, so nothing hostile gets that far.
  return { ...month, fleet: { ...month.fleet, reviews: fullMonth().fleet.reviews } };
}

/** The invented record, likewise. */
export function hostileRecord(): PastRecord {
  const record = hostile(makeRecord(), "") as PastRecord;
  return { ...record, fleet: { ...record.fleet, reviews: null } };
}
