/**
 * What an authority asked for when it refused or deferred: the conditions of `revisit` that can be checked by number.
 *
 *   20 lives over 700 h · 12 more looks · 12 more looks at 600 h · 2026-09 · September 2026 · the review of September 2026
 *   2026-09-15 · the name of an evidence rule · several of them joined by "and"
 *
 * Anything else must be judged by a person, and until then counts as not met.
 */
import type { Life } from "../records/life.ts";
import { addMonths, type Day, dayFromIso, dayOf, isoDate } from "../units.ts";
import { looksAtInterval } from "./looks-at-present.ts";
import type { EvidenceOutcome } from "./month-result.ts";
import { paceText } from "./rule-outcome.ts";

export type RevisitCondition =
  | { readonly kind: "lives over"; readonly lives: number; readonly hours: number }
  /** Looks since the decision; of those about `intervalH` apart where it is given. */
  | { readonly kind: "more looks"; readonly looks: number; readonly intervalH: number | null }
  | { readonly kind: "day"; readonly from: Day }
  | { readonly kind: "rule"; readonly rule: string }
  | { readonly kind: "a person judges"; readonly text: string };

const NUMBER = "([0-9]+(?:\\.[0-9]+)?)";
const LIVES_OVER = new RegExp(`^(?:at least )?([0-9]+) (?:more )?lives (?:over|past|beyond) ${NUMBER} ?h$`);
const MORE_LOOKS = new RegExp(`^(?:at least )?([0-9]+) (?:more|further) looks(?: at ${NUMBER} ?h)?$`);
const MONTH_NAMES = [
  "january",
  "february",
  "march",
  "april",
  "may",
  "june",
  "july",
  "august",
  "september",
  "october",
  "november",
  "december",
];
const BEFORE_A_DATE = /^(?:at |from |not before |on or after )?(?:the )?(?:next )?(?:review (?:of|in) )?/;

/** @param rules  names of the evidence rules; a condition may name one */
export const parseRevisit = (revisit: string, rules: readonly string[]): RevisitCondition[] =>
  revisit
    .split(/\s+and\s+|[;,]\s*/)
    .map((text) => text.trim().replace(/\.$/, ""))
    .filter((text) => text !== "")
    .map((text) => parseCondition(text, rules));

function parseCondition(text: string, rules: readonly string[]): RevisitCondition {
  const plain = text.toLowerCase().replaceAll(/\s+/g, " ");
  const lives = LIVES_OVER.exec(plain);
  // "20 more lives" can't be told from the file without the count on the day: a person judges.
  if (lives && !plain.includes(" more ")) {
    return { kind: "lives over", lives: Number(lives[1]), hours: Number(lives[2]) };
  }
  const looks = MORE_LOOKS.exec(plain);
  if (looks) {
    const intervalH = looks[2] === undefined ? null : Number(looks[2]);
    return { kind: "more looks", looks: Number(looks[1]), intervalH };
  }
  const from = firstDayOf(plain.replace(BEFORE_A_DATE, ""));
  if (from !== null) return { kind: "day", from };
  const ruleName = plain.replace(/^(?:the )?rule /, "").replaceAll(/["“”]/g, "");
  const rule = rules.find((name) => name.toLowerCase() === ruleName);
  return rule === undefined ? { kind: "a person judges", text } : { kind: "rule", rule };
}

/** The first day of a month (2026-09, September 2026), or a day (2026-09-15). */
function firstDayOf(text: string): Day | null {
  const day = dayFromIso(text);
  if (day !== null) return day;
  const iso = /^(\d{4})-(\d{2})$/.exec(text);
  if (iso) return dayOf(Number(iso[1]), Number(iso[2]), 1);
  const named = /^([a-z]+) (\d{4})$/.exec(text);
  const month = named === null ? -1 : MONTH_NAMES.indexOf(named[1]!);
  return month < 0 ? null : dayOf(Number(named![2]), month + 1, 1);
}

export interface ConditionState {
  readonly met: boolean;
  readonly found: string;
  readonly needed: string;
  /** What would settle it; null where met. */
  readonly settle: string | null;
}

export interface RevisitFacts {
  readonly lives: readonly Life[];
  /** Day of the decision. */
  readonly decidedOn: Day;
  readonly asOf: Day;
  /** How far from an interval a look may be and still count for it. */
  readonly band: number;
  /** The other evidence rules, as this month answers them. */
  readonly outcomes: readonly EvidenceOutcome[];
}

/** Whether a condition is met by what is known this month. */
export function conditionState(condition: RevisitCondition, facts: RevisitFacts): ConditionState {
  switch (condition.kind) {
    case "lives over":
      return livesOver(condition, facts);
    case "more looks":
      return moreLooks(condition, facts);
    case "day": {
      const met = facts.asOf >= condition.from;
      const needed = `not before ${isoDate(condition.from)}`;
      return { met, found: `this is ${isoDate(facts.asOf)}`, needed, settle: met ? null : needed };
    }
    case "rule": {
      const outcome = facts.outcomes.find(({ rule }) => rule === condition.rule);
      const met = outcome?.outcome === "passed";
      const settle = met ? null : (outcome?.settle ?? `the rule "${condition.rule}" must pass`);
      const found = `the rule "${condition.rule}" is ${outcome?.outcome ?? "not evaluated"}`;
      return { met, found, needed: `the rule "${condition.rule}" passed`, settle };
    }
    case "a person judges":
      return {
        met: false,
        found: `"${condition.text}" can't be checked by number`,
        needed: condition.text,
        settle: `a person judges whether "${condition.text}" is met, and the decision is entered`,
      };
  }
}

function livesOver(
  { lives: needed, hours }: { readonly lives: number; readonly hours: number },
  { lives, asOf }: RevisitFacts,
): ConditionState {
  const over = lives.filter(({ lookHours }) => (lookHours.at(-1) ?? 0) > hours);
  const yearAgo = addMonths(asOf, -12);
  const lately = over.filter(({ lookHours, lookDays }) => {
    const first = lookHours.findIndex((at) => at > hours);
    return lookDays[first]! > yearAgo;
  });
  const what = `lives looked at over ${hours} h`;
  const met = over.length >= needed;
  return {
    met,
    found: `${over.length} ${what}`,
    needed: `${needed} ${what}`,
    settle: met ? null : paceText(needed - over.length, lately.length, what),
  };
}

function moreLooks(
  { looks: needed, intervalH }: { readonly looks: number; readonly intervalH: number | null },
  { lives, decidedOn, asOf, band }: RevisitFacts,
): ConditionState {
  const days =
    intervalH === null
      ? lives.flatMap(({ lookDays }) => lookDays.filter((day) => day > decidedOn))
      : looksAtInterval(lives, intervalH, decidedOn + 1, band).map(({ day }) => day);
  const yearAgo = addMonths(asOf, -12);
  const lately = days.filter((day) => day > yearAgo);
  const what = intervalH === null ? "looks" : `looks at ${intervalH} h`;
  const met = days.length >= needed;
  return {
    met,
    found: `${days.length} ${what} since ${isoDate(decidedOn)}`,
    needed: `${needed} ${what} since then`,
    settle: met ? null : paceText(needed - days.length, lately.length, what),
  };
}
