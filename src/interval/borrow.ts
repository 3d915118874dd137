/**
 * A group too thin by itself takes from the part's other groups what it can't tell alone: the shape of its lives where too
 * few were found over the limit for a free Weibull, and the spread of rates and the scatter where fewer components were read
 * than a wear bound needs. Its own lives still give the scale, its own components the mean rate.
 *
 * It borrows only where no test rejects that the groups are alike in it. Where it has a line of its own, the worse of the
 * two counts, so borrowing never makes a risk smaller than its own line says. Lenders lend what they are by themselves:
 * nobody lends what was borrowed, and the order of the groups has no say.
 */
import type { Fleet } from "../fleet/fleet.ts";
import { type LentShape, lendShape } from "./borrow-shape.ts";
import { lendSpread } from "./borrow-spread.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";
import { type BoundSide, remembered, type SurvivalLine } from "./lines.ts";
import { type RiskAtSpacing, type RiskLines, shareOf, worse } from "./risks.ts";
import type { WearLine } from "./wear-line.ts";

/** @param groups  of its part, the group itself among them */
export function withBorrowing(
  group: GroupEvidence,
  groups: readonly GroupEvidence[],
  { acceptable: { confidence }, evidence: { borrowP } }: Fleet,
): GroupEvidence {
  const others = groups.filter((other) => other !== group && other.key.part === group.key.part);
  const lenders = [...others].sort((a, b) => (nameOrder(a) < nameOrder(b) ? -1 : 1));
  const shape = lendShape(group, lenders, confidence, borrowP);
  const spread = lendSpread(group, lenders, confidence, borrowP);
  const borrowed = [shape?.said, spread?.said].filter((said) => said !== undefined);
  if (!shape?.lines && !spread?.lineAt) return { ...group, borrowed };
  const add = (lines: Lines, level: number, rough: boolean): Lines =>
    withLent(group, lines, shape, spread?.lineAt?.(level, rough ? "stretched" : "traced") ?? null, {
      confidence: level,
      side: level === confidence ? "both" : "upper",
    });
  const linesAt = remembered((level: number) => add(group.linesAt(level), level, false));
  const rough = remembered((level: number) => add(group.roughLinesAt(level), level, true));
  return {
    ...group,
    borrowed,
    linesAt,
    roughLinesAt: (level) => (level === confidence ? linesAt(level) : rough(level)),
  };
}

/** A name to sort groups by, so that sums run in one order whatever order the groups come in. */
const nameOrder = ({ key }: GroupEvidence): string => JSON.stringify([key.environment, key.standard]);

function withLent(
  { greatestAgeH, unsafeSetting }: GroupEvidence,
  lines: Lines,
  shape: LentShape | null,
  wear: WearLine | null,
  { confidence, side }: { confidence: number; side: BoundSide },
): Lines {
  const counted = shape?.lines?.counted(confidence) ?? null;
  const censored = shape?.lines?.censored(confidence) ?? null;
  const wearRisk = shareOf(wear, greatestAgeH, side);
  const unsafe: RiskAtSpacing =
    wear === null || unsafeSetting === null
      ? () => null
      : remembered((spacingH: number) => wear.unsafe(unsafeSetting, spacingH, side));
  const add = (own: RiskLines, life: SurvivalLine | null): RiskLines => ({
    life: worseOf(own.life, shareOf(life, greatestAgeH, side, lines.lifeHorizon)),
    wear: worseOf(own.wear, wearRisk),
    unsafe: worseOf(own.unsafe, unsafe),
  });
  return {
    ...lines,
    borrowed: [counted, wear].filter((line) => line !== null),
    risks: { counted: add(lines.risks.counted, counted), censored: add(lines.risks.censored, censored) },
  };
}

const worseOf =
  (own: RiskAtSpacing, lent: RiskAtSpacing): RiskAtSpacing =>
  (spacingH, upTo) =>
    worse(own(spacingH, upTo), lent(spacingH, upTo));
