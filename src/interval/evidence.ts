/** Everything a group's recommendation stands on, computed once and used by each task that covers the group. */
import type { Part } from "../fleet/fleet.ts";
import { type AlternativeFit, compareFamilies } from "../life/alternatives.ts";
import { fitWeibull } from "../life/weibull-fit.ts";
import { type GroupReadings, groupReadings, overLimitTable } from "../records/event-table.ts";
import type { GroupKey, Life } from "../records/life.ts";
import { unreadRemovals } from "../records/unread-removals.ts";
import { type ComponentSums, groupSums } from "../wear/component-sums.ts";
import type { RegionEdge } from "../wear/likelihood-region.ts";
import type { Borrowed } from "./borrowed-result.ts";
import { type LifeLineResult, lifeLine } from "./life-line.ts";
import { type BoundSide, remembered, type SurvivalLine } from "./lines.ts";
import type { Horizon } from "./over-limit-share.ts";
import type { UnsafeSetting } from "./rate-risk.ts";
import { boundedOnce, greatestAge, type RiskAtSpacing, type RiskLines, shareOf } from "./risks.ts";
import { type WearFits, type WearLineResult, wearFits, wearLine } from "./wear-line.ts";

/** Components and aircraft that must have been at risk for hours to count as observed. */
export const AT_RISK = { components: 10, aircraft: 3 };

/** Both lines at one confidence. */
export interface Lines {
  readonly life: LifeLineResult;
  readonly wear: WearLineResult;
  /** How far the lives are asked about the share of looks over the limit. */
  readonly lifeHorizon: Horizon;
  /** Risks with early removals counted as events, and with them censored. */
  readonly risks: { readonly counted: RiskLines; readonly censored: RiskLines };
  /** Lines that stand on other groups as well; the risks have them in already. */
  readonly borrowed: readonly SurvivalLine[];
}

export interface GroupEvidence {
  readonly key: GroupKey;
  readonly part: Part;
  /** All lives: what is counted. */
  readonly lives: readonly Life[];
  /** Those that the models see (modelled-lives.ts); in all but very large groups the same array. */
  readonly modelled: readonly Life[];
  /** Readings of the modelled lives. */
  readonly readings: GroupReadings;
  /** Of all lives with readings, for what is said of each component; sums in the order of their lives. */
  readonly everyRead: () => { readonly lives: readonly Life[]; readonly sums: ComponentSums };
  /** Greatest age with 10 components of 3 aircraft at risk, 0 where there never were so many. */
  readonly greatestAgeH: number;
  /** Removals for other reasons, per flight hour watched. */
  readonly otherRemovalsPerHour: number;
  /** null without an unsafe-at limit or a detection chance: then there is no unsafe risk. */
  readonly unsafeSetting: UnsafeSetting | null;
  /** Distributions fitted to the over-limit lives, best first; fitted when first asked for. */
  readonly families: () => readonly AlternativeFit[];
  /**
   * Lines for one-sided bounds at a confidence; computed when first asked for. At any other confidence than the fleet
   * file's own their risks have upper bounds only.
   */
  readonly linesAt: (confidence: number) => Lines;
  /** The same for questions beside the decision: regions at other confidences are stretched ones of the 95 % region. */
  readonly roughLinesAt: (confidence: number) => Lines;
  /** What was asked of other groups, this one being too thin by itself (borrow.ts). */
  readonly borrowed: readonly Borrowed[];
}

/**
 * @param detectionChance  that one look sees a component over the limit; null: not given, so no unsafe risk
 * @param confidence       one-sided, of what the fits themselves assume (the exponent's upper bound)
 * @param modelled         the lives that the models see. __Default value:__ all
 */
export function groupEvidence(
  key: GroupKey,
  lives: readonly Life[],
  part: Part,
  detectionChance: number | null,
  confidence: number,
  modelled: readonly Life[] = lives,
): GroupEvidence {
  const readings = groupReadings(modelled);
  const hours = lives.reduce((sum, life) => sum + life.lastHours - life.observedFromHours, 0);
  const others = lives.filter(({ end }) => end === "removed").length;
  const otherRemovalsPerHour = hours > 0 ? others / hours : 0;
  let families: readonly AlternativeFit[] | null = null;
  let everyRead: ReturnType<GroupEvidence["everyRead"]> | null = null;
  const base = {
    key,
    part,
    lives,
    modelled,
    readings,
    everyRead: () => {
      everyRead ??= everySums(modelled === lives ? readings : groupReadings(lives));
      return everyRead;
    },
    greatestAgeH: greatestAge(modelled, AT_RISK.components, AT_RISK.aircraft),
    otherRemovalsPerHour,
    unsafeSetting: unsafeSetting(part, otherRemovalsPerHour, detectionChance),
    families: () => {
      families ??= fittedFamilies(modelled);
      return families;
    },
  };
  const models = modelsOf(modelled, readings, part, confidence);
  const linesAt = remembered((level: number) =>
    linesOf(base, models, level, level === confidence ? "both" : "upper", "traced"),
  );
  const rough = remembered((level: number) => linesOf(base, models, level, "upper", "stretched"));
  return {
    ...base,
    linesAt,
    borrowed: [],
    roughLinesAt: (level) => (level === confidence ? linesAt(level) : rough(level)),
  };
}

function everySums(readings: GroupReadings): ReturnType<GroupEvidence["everyRead"]> {
  const sums = groupSums(readings);
  return { lives: Array.from(sums.component, (index) => readings.lives[index]!), sums };
}

function fittedFamilies(lives: readonly Life[]): AlternativeFit[] {
  const table = overLimitTable(lives);
  return compareFamilies(table, fitWeibull(table));
}

/** Fits, made once. */
interface Models {
  readonly life: (confidence: number) => LifeLineResult;
  /** With early removals censored; null where there are none. */
  readonly lifeCensored: ((confidence: number) => LifeLineResult) | null;
  readonly wear: WearFits;
}

function modelsOf(lives: readonly Life[], readings: GroupReadings, part: Part, confidence: number): Models {
  const early = lives.some(({ end }) => end === "early removal");
  return {
    life: lifeLine(overLimitTable(lives)),
    lifeCensored: early ? lifeLine(overLimitTable(lives, "censored")) : null,
    wear: wearFits(readings, unreadRemovals(lives), part.replaceAtMm, confidence),
  };
}

function linesOf(
  base: Omit<GroupEvidence, "linesAt" | "roughLinesAt" | "borrowed">,
  models: Models,
  confidence: number,
  side: BoundSide,
  edge: RegionEdge,
): Lines {
  const { part, greatestAgeH } = base;
  const life = models.life(confidence);
  const wear = wearLine(models.wear, part.replaceAtMm, confidence, edge);
  const wearRisks = {
    wear: shareOf(wear.kind === "line" ? wear.line : null, greatestAgeH, side),
    unsafe: unsafeOf(wear, base.unsafeSetting, side),
  };
  const lifeHorizon = horizonOf(life, wear, greatestAgeH);
  const counted = {
    life: shareOf(life.kind === "line" ? life.line : null, greatestAgeH, side, lifeHorizon),
    ...wearRisks,
  };
  const lifeCensored = models.lifeCensored?.(confidence);
  const censored =
    lifeCensored === undefined
      ? counted
      : {
          life: shareOf(
            lifeCensored.kind === "line" ? lifeCensored.line : null,
            greatestAgeH,
            side,
            lifeHorizon,
          ),
          ...wearRisks,
        };
  return { life, wear, lifeHorizon, risks: { counted, censored }, borrowed: [] };
}

/** Over this share of lives at the limit, they were followed to where it matters (evidence rule "followed far enough"). */
const FOLLOWED_TO_SHARE = 0.1;

/**
 * Lives of which hardly any was found over the limit say how long they have lasted and nothing of what comes after: carried
 * on to the long run, the worst shape lets all of them fail on the day after. Up to the greatest age followed they are
 * heard; the long run is then left to the wear readings, which see the way to the limit.
 */
function horizonOf(life: LifeLineResult, wear: WearLineResult, greatestAgeH: number): Horizon {
  if (life.kind === "none" || wear.kind === "none") return "long run";
  const overByThen = life.line.estimated((survival) => 1 - survival(greatestAgeH));
  return overByThen < FOLLOWED_TO_SHARE ? "as followed" : "long run";
}

function unsafeOf(wear: WearLineResult, setting: UnsafeSetting | null, side: BoundSide): RiskAtSpacing {
  if (wear.kind === "none" || setting === null) return () => null;
  return boundedOnce(side, (spacingH, asked) => wear.line.unsafe(setting, spacingH, asked));
}

function unsafeSetting(
  part: Part,
  otherRemovalsPerHour: number,
  detectionChance: number | null,
): UnsafeSetting | null {
  if (part.unsafeAtMm === null || detectionChance === null) return null;
  return {
    replaceAtMm: part.replaceAtMm,
    unsafeAtMm: part.unsafeAtMm,
    beyondLimitFactor: part.beyondLimitFactor,
    detectionChance,
    otherRemovalsPerHour,
  };
}
