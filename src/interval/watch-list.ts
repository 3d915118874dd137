/** The watch list: each fitted component's chance of being over the limit at its next look, by its own readings. */
import type { Life } from "../records/life.ts";
import { lastReading } from "../records/life-readings.ts";
import { chanceOverOf } from "../wear/component-posterior.ts";
import { type HoursLeft, hoursLeft } from "../wear/hours-left.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";
import type { Bounded, WatchLine } from "./month-result.ts";

/** A life that still runs in this group: not removed, not moved on, and good at its last look. */
export const isRunning = ({ end }: Life): boolean => end === "still fitted";

/** What a component's own readings say of its next look; the worst of the fits that count. */
export interface OwnOutlook {
  readonly life: Life;
  readonly chanceByNextLook: number;
  /** From its last look. Worked out when asked for: it takes far longer than the chance. */
  readonly hoursLeft: () => Bounded;
}

/** 90 % of such components have their hours left within the bounds. */
const HOURS_LEFT_CONFIDENCE = 0.9;

/**
 * Outlook of the components still fitted that the wear line knows (followed in this group from its start).
 *
 * @param spacingH  hours to the next look, lateness included
 * @param wanted    which lives to work out. __Default value:__ all
 */
export function outlooks(
  { everyRead, part }: GroupEvidence,
  { wear }: Lines,
  spacingH: number,
  wanted: (life: Life) => boolean = () => true,
): OwnOutlook[] {
  if (wear.kind === "none") return [];
  const { fit } = wear.line;
  const { lives, sums } = everyRead();
  const limitMm = part.replaceAtMm;
  const fits = fit.fits.filter(({ sample }) => sample === "all");
  const results: OwnOutlook[] = [];
  for (const [i, life] of lives.entries()) {
    if (!isRunning(life) || !wanted(life)) continue;
    const lookedAtHours = hoursAtLastLook(life);
    let chanceByNextLook = 0;
    for (const { parameters } of fits) {
      const chance = chanceOverOf(sums, i, parameters, lookedAtHours + spacingH, limitMm, true);
      chanceByNextLook = Math.max(chanceByNextLook, chance);
    }
    const look = { lookedAtHours, limitMm, confidence: HOURS_LEFT_CONFIDENCE };
    results.push({
      life,
      chanceByNextLook,
      hoursLeft: () => soonest(fits.map(({ parameters }) => hoursLeft(sums, i, parameters, look))),
    });
  }
  return results;
}

const hoursAtLastLook = (life: Life): number => life.lookHours.at(-1) ?? life.lastHours;

const soonest = (all: readonly HoursLeft[]): Bounded => ({
  estimate: Math.min(...all.map(({ medianHours }) => medianHours)),
  lower: Math.min(...all.map(({ lowerHours }) => lowerHours)),
  upper: Math.min(...all.map(({ upperHours }) => upperHours)),
});

/** A component is on the watch list from this chance of being over at its next look. */
export const WATCHED_FROM = 0.05;

/** A line from the group's own lives; what was flown since the look stands in the exports, and is added later. */
export type OwnWatchLine = Omit<WatchLine, "hoursFlownSince"> & { readonly component: number };

/** The watch list of a group, the likeliest first. */
export function watchList(
  evidence: GroupEvidence,
  lines: Lines,
  spacingH: number,
  serials: readonly string[],
): OwnWatchLine[] {
  return outlooks(evidence, lines, spacingH)
    .filter(({ chanceByNextLook }) => chanceByNextLook >= WATCHED_FROM)
    .map(({ life, chanceByNextLook, hoursLeft: left }) => {
      const last = lastReading(life)!;
      return {
        component: life.component,
        group: evidence.key,
        serial: serials[life.component]!,
        where: [life.aircraft, life.position].filter((word) => word !== "").join(", ") || "not recorded",
        lastReadingMm: last.wearMm,
        lastReadingDay: last.day,
        hoursAtLastReading: last.hours,
        hoursAtLastLook: hoursAtLastLook(life),
        lastLookDay: life.lookDays.at(-1) ?? last.day,
        chanceByNextLook,
        hoursLeft: left(),
      };
    })
    .sort(byChance);
}

/** Likeliest first; at equal chance in order of serial (by code unit, the same everywhere). */
export const byChance = (a: OwnWatchLine, b: OwnWatchLine): number =>
  b.chanceByNextLook - a.chanceByNextLook || (a.serial < b.serial ? -1 : 1);
