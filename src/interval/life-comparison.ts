/**
 * Lives of one part compared: did the new standard help, is one shape enough, and what do environment and standard do?
 * Only components side by side in time are compared.
 */
import { commonShape, compareLives } from "../life/comparisons.ts";
import { factorEffects } from "../life/effects.ts";
import { logRank } from "../life/log-rank.ts";
import type { LifeGroup } from "../life/parse-life-table.ts";
import { fitWeibull } from "../life/weibull-fit.ts";
import { type ConcurrentLife, concurrentLives } from "../records/concurrent-lives.ts";
import { aircraftNumbers, isEvent, modelledUpper, overLimitTable } from "../records/event-table.ts";
import { type LifeTable, lifeTable } from "../records/life-table.ts";
import { modeOf } from "../records/mode-lives.ts";
import type { Day } from "../units.ts";
import type { GroupEvidence } from "./evidence.ts";
import type { PartLifeComparison, StandardComparison } from "./life-findings.ts";
import { remembered } from "./lines.ts";

/** Fewest over-limit events of the two standards together for a ratio to be worth its line. */
const FEWEST_EVENTS = 5;

/** Comparisons of one part's groups; null where it has only one. */
export function lifeComparison(
  groups: readonly GroupEvidence[],
  confidence: number,
): PartLifeComparison | null {
  return groups.length < 2 ? null : partComparison(groups[0]!.key.part, groups, confidence);
}

function partComparison(
  part: string,
  groups: readonly GroupEvidence[],
  confidence: number,
): PartLifeComparison {
  const environments = [...new Set(groups.map(({ key }) => key.environment))];
  const window = commonWindow(groups);
  const meanLookDay = remembered((standard: string) => meanLookDayOf(groups, standard));
  const lives = groups.flatMap((group) => concurrentLives(group.modelled, window.fromDay, window.toDay));
  const factors = factorEffects(
    overLimitTable(lives),
    [
      { name: "environment", levels: lives.map(({ group }) => group.environment) },
      { name: "standard", levels: lives.map(({ group }) => group.standard) },
    ],
    confidence,
  );
  return {
    part,
    ...window,
    standards: environments.flatMap((environment) =>
      standardPairs(groups, environment, meanLookDay).map(([of, against]) =>
        compareStandards(of, against, confidence),
      ),
    ),
    shape: shapeOf(groups),
    effects:
      factors.kind === "none"
        ? []
        : factors.effects.map(({ factor, level, against, ratio, lower, upper }) => ({
            factor,
            level,
            against,
            ratio: { estimate: ratio, lower, upper },
          })),
    interactionP: factors.kind === "none" ? null : (factors.interaction?.p ?? null),
    whyNoEffects: factors.kind === "none" ? factors.why : null,
  };
}

const firstDay = ({ lives }: GroupEvidence): Day =>
  lives.reduce((least, life) => Math.min(least, life.firstDay), Number.POSITIVE_INFINITY);
const lastDay = ({ lives }: GroupEvidence): Day =>
  lives.reduce((most, life) => Math.max(most, life.lastDay), Number.NEGATIVE_INFINITY);

/** The days on which every standard of the part was under observation somewhere. */
function commonWindow(groups: readonly GroupEvidence[]): { fromDay: Day; toDay: Day } {
  const standards = [...new Set(groups.map(({ key }) => key.standard))];
  const of = (standard: string) => groups.filter(({ key }) => key.standard === standard);
  return {
    fromDay: Math.max(...standards.map((standard) => Math.min(...of(standard).map(firstDay)))),
    toDay: Math.min(...standards.map((standard) => Math.max(...of(standard).map(lastDay)))),
  };
}

/** Mean day of all looks at a standard's components; 0 without any. */
function meanLookDayOf(groups: readonly GroupEvidence[], standard: string): Day {
  let sum = 0;
  let looks = 0;
  for (const { key, lives } of groups) {
    if (key.standard !== standard) continue;
    for (const { lookDays } of lives) {
      for (const day of lookDays) sum += day;
      looks += lookDays.length;
    }
  }
  return looks === 0 ? 0 : sum / looks;
}

/** The newer standard against each older one. Newer is the one whose looks are later on average, in all environments. */
function standardPairs(
  groups: readonly GroupEvidence[],
  environment: string,
  meanLookDay: (standard: string) => number,
): [GroupEvidence, GroupEvidence][] {
  const oldestFirst = groups
    .filter(({ key }) => key.environment === environment)
    .map((group) => ({ group, day: meanLookDay(group.key.standard) }))
    .sort((a, b) => a.day - b.day)
    .map(({ group }) => group);
  return oldestFirst.flatMap((of, at) =>
    oldestFirst.slice(0, at).map((against): [GroupEvidence, GroupEvidence] => [of, against]),
  );
}

function compareStandards(of: GroupEvidence, against: GroupEvidence, confidence: number): StandardComparison {
  const window = commonWindow([of, against]);
  const [newer, older] = [of, against].map(({ modelled }) =>
    concurrentLives(modelled, window.fromDay, window.toDay),
  );
  const base = {
    environment: of.key.environment,
    of: of.key.standard,
    against: against.key.standard,
    ...window,
    lives: { of: newer!.length, against: older!.length },
    events: { of: newer!.filter(isEvent).length, against: older!.filter(isEvent).length },
  };
  const groups = together([
    [of.key.standard, newer!],
    [against.key.standard, older!],
  ]);
  const none = (why: string): StandardComparison => ({ ...base, compared: null, why });
  if (window.fromDay > window.toDay) return none("the two were never under observation at one time");
  if (base.events.of + base.events.against < FEWEST_EVENTS)
    return none(`${eventsText(base.events.of + base.events.against)} at that time, too few to compare`);
  const compared = compareLives(groups[0]!, groups[1]!, confidence);
  if (compared.kind === "none") return none(compared.why);
  const removals = logRank(removalGroups(groups, [newer!, older!]));
  const { ratio, lower, upper, test, shapeTest, sentence } = compared;
  return {
    ...base,
    compared: {
      ratio: { estimate: ratio, lower, upper },
      p: test.p,
      shapeP: shapeTest?.p ?? null,
      removalsP: removals.kind === "tested" ? removals.p : null,
      sentence,
    },
    why: null,
  };
}

const eventsText = (events: number): string =>
  events === 0 ? "no over-limit event" : events === 1 ? "1 over-limit event" : `${events} over-limit events`;

/** Over-limit tables of several sets of lives, an aircraft having one number in all of them. */
function together(sets: readonly (readonly [string, readonly ConcurrentLife[]])[]): LifeGroup[] {
  const { numbers } = aircraftNumbers(sets.flatMap(([, lives]) => lives));
  let from = 0;
  return sets.map(([group, lives]) => {
    const cluster = numbers.slice(from, from + lives.length);
    from += lives.length;
    return { group, table: { ...overLimitTable(lives), cluster } };
  });
}

/** Removals for cause that the shop did not clear: their hours are known, so the log-rank test applies. */
const removalGroups = (
  groups: readonly LifeGroup[],
  lives: readonly (readonly ConcurrentLife[])[],
): LifeGroup[] => groups.map(({ group }, g) => ({ group, table: removalTable(lives[g]!) }));

const removalTable = (lives: readonly ConcurrentLife[]): LifeTable =>
  lifeTable(
    lives.map((life) => {
      const cause = life.removal !== null && modeOf(life) !== null;
      return {
        entryHours: Math.min(life.observedFromHours, life.lastHours),
        lowerHours: life.lastHours,
        upperHours: cause ? modelledUpper(life.lastHours) : Number.POSITIVE_INFINITY,
      };
    }),
  );

/** One shape for all groups of the part that have a fit of their own, against a shape for each. */
function shapeOf(groups: readonly GroupEvidence[]): PartLifeComparison["shape"] {
  const fitted = groups.filter(({ modelled }) => fitWeibull(overLimitTable(modelled)).kind === "fitted");
  if (fitted.length < 2) return null;
  const shared = commonShape(
    together(fitted.map(({ key, modelled }) => [`${key.environment}, ${key.standard}`, modelled] as const)),
  );
  if (shared.kind === "none" || shared.test === null) return null;
  const { chiSquared, degreesOfFreedom, p } = shared.test;
  return { groups: fitted.length, shape: shared.shape, chiSquared, degreesOfFreedom, p };
}
