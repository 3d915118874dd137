/** What the life chart of a group says: its title, its words, and how to read it. */
import type { GroupLife } from "../../interval/life-findings.ts";
import { sentenceCase } from "../group-name.ts";
import { boundedHours, boundedPlain, counted, hours, share, whole } from "../number-format.ts";
import type { HoursRange } from "./life-range.ts";

/** The finding in a title's words. */
export function lifeTitle(name: string, life: GroupLife): string {
  const place = sentenceCase(name);
  if (life.weibull === null)
    return `${place}: ${whole(life.events)} of ${counted(life.lives, "life", "lives")} over the limit, no fit`;
  return `${place}: one in ten is over the limit by ${boundedHours(life.weibull.tenPercentHours)}`;
}

/** The picture in words, for whoever can't see it. */
export function lifeInWords(name: string, life: GroupLife): string {
  const last = life.survival.at(-1);
  const observed =
    last === undefined
      ? "No event was observed."
      : `Of the components observed, ${share(1 - last.survival)} are over the limit by ${hours(last.hours)}.`;
  const fitted =
    life.weibull === null
      ? `No Weibull is fitted: ${life.why ?? "too few events"}.`
      : `The fitted Weibull has shape ${boundedPlain(life.weibull.shape)} and scale ${boundedHours(life.weibull.scaleHours)}; ` +
        `10 % are over by ${boundedHours(life.weibull.tenPercentHours)}.`;
  return `Share of components over the limit against flight hours, ${name}, on Weibull axes. ${observed} ${fitted}`;
}

/** How to read the picture, and what was counted. */
export function lifeCaption(life: GroupLife, range: HoursRange, confidence: number): string {
  const late = life.lateEntries === 0 ? "" : `, ${whole(life.lateEntries)} entered late`;
  const size = `${counted(life.lives, "life", "lives")}: ${whole(life.events)} over the limit, ${whole(life.running)} running${late}.`;
  const fit = life.weibull === null ? "" : " Line: fitted Weibull, band its bounds.";
  const early = life.marks.filter((mark) => (mark.upper ?? mark.lower) < range.lowest).length;
  const edge = early === 0 ? "" : ` ${counted(early, "mark")} at the left end: before the axis begins.`;
  return `${size} Steps: observed, dotted their bounds.${fit} Bounds at ${share(confidence)} confidence.${edge}`;
}
