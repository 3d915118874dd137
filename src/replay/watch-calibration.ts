/**
 * The watch list held against its own future: each component's chance of being over at its next look, from the fits and
 * readings of the month-end before that look, at the hours at which the look was really made.
 */

import type { GroupEvidence } from "../interval/evidence.ts";
import { countPValue } from "../interval/lines-agree.ts";
import { isRunning } from "../interval/watch-list.ts";
import { clopperPearson } from "../math/exact-bounds.ts";
import { type GroupKey, sameGroup } from "../records/life.ts";
import { chanceOverOf } from "../wear/component-posterior.ts";
import type { LaterLook } from "./later-looks.ts";
import { sumOf } from "./predicted-counts.ts";
import type { ChanceBand, WatchCalibration } from "./record-result.ts";

export interface GivenChance {
  readonly chance: number;
  readonly over: boolean;
}

/** Levels between the bands. */
const LEVELS = [0, 0.02, 0.05, 0.1, 0.3, 1];

/** Identity of a component across readings of the exports, whose numbers differ. */
export const componentId = ({ part }: GroupKey, serial: string): string => JSON.stringify([part, serial]);

/**
 * Chances of a past month for the looks made until the next one.
 *
 * @param serialOf  serial of a component by its number in that month's reading
 * @param nextLook  the first look after the month-end of a component by its id, where it was made before the next one
 */
export function givenChances(
  { key, part, readings, linesAt }: GroupEvidence,
  confidence: number,
  serialOf: readonly string[],
  nextLook: ReadonlyMap<string, LaterLook>,
): GivenChance[] {
  const { wear } = linesAt(confidence);
  if (wear.kind === "none") return [];
  const { fit, data } = wear.line;
  const fits = fit.fits.filter(({ sample }) => sample === "all");
  const given: GivenChance[] = [];
  for (let i = 0; i < data.sums.components; i++) {
    const life = readings.lives[data.sums.component[i]!]!;
    const next = nextLook.get(componentId(key, serialOf[life.component]!));
    if (!isRunning(life) || next === undefined) continue;
    // Another life or another group by then: the list of then spoke of something else.
    if (next.life.life !== life.life || !sameGroup(next.life.group, key)) continue;
    const chances = fits.map(({ parameters }) =>
      chanceOverOf(data.sums, i, parameters, next.hours, part.replaceAtMm, true),
    );
    given.push({ chance: Math.max(...chances), over: next.over });
  }
  return given;
}

/** The first look of each component, by its id. @param serialOf  by the numbers of the lives' own reading */
export function firstLooks(
  looks: readonly LaterLook[],
  serialOf: readonly string[],
): ReadonlyMap<string, LaterLook> {
  const first = new Map<string, LaterLook>();
  for (const look of looks) {
    const id = componentId(look.life.group, serialOf[look.life.component]!);
    const known = first.get(id);
    if (known === undefined || look.day < known.day || (look.day === known.day && look.hours < known.hours))
      first.set(id, look);
  }
  return first;
}

/** Given against found, by bands of the chance given; null without a look. */
export function watchCalibration(given: readonly GivenChance[], confidence: number): WatchCalibration | null {
  if (given.length === 0) return null;
  const chances = given.map(({ chance }) => chance);
  const over = given.filter((one) => one.over).length;
  return {
    looks: given.length,
    given: sumOf(chances),
    over,
    p: countPValue(chances, over),
    bands: LEVELS.slice(1).map((to, k) => bandOf(given, LEVELS[k]!, to, confidence)),
  };
}

function bandOf(all: readonly GivenChance[], from: number, to: number, confidence: number): ChanceBand {
  const own = all.filter(({ chance }) => chance >= from && (chance < to || to === 1));
  const over = own.filter((one) => one.over).length;
  const looks = own.length;
  return {
    ...{ from, to, looks, over },
    given: looks === 0 ? null : sumOf(own.map(({ chance }) => chance)) / looks,
    share: looks === 0 ? null : clopperPearson(over, looks, confidence),
  };
}
