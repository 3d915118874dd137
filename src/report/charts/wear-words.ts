/** What the wear chart of a group says: its title, its words, and how to read it. */
import type { GroupResult } from "../../interval/month-result.ts";
import { sentenceCase } from "../group-name.ts";
import { boundedRate, counted, fixed, hours, millimetres, whole } from "../number-format.ts";
import { MOST_SINGLE_READINGS } from "./wear-cells.ts";
import type { WearAxes, WearReading } from "./wear-chart.ts";
import { strays } from "./wear-ground.ts";

/** The finding in a title's words. */
export function wearTitle(group: GroupResult, label: string): string {
  const { fit } = group.wear;
  const place = sentenceCase(label);
  if (fit === null) return `${place}: no wear rate yet`;
  return `${place}: wears ${boundedRate(fit.ratePer1000H, "mm")} per 1000 h${reaching(group, fit)}`;
}

/** Where the group's line meets the limit, if it does so among the hours read. */
function reaching(group: GroupResult, fit: NonNullable<GroupResult["wear"]["fit"]>): string {
  const last = group.wear.band.at(-1);
  if (last === undefined || fit.ratePer1000H.estimate <= 0) return "";
  const at = (1000 * (group.replaceAtMm - fit.interceptMm.estimate)) / fit.ratePer1000H.estimate;
  return at <= last.hours
    ? `; its line reaches the limit at ${hours(at)}`
    : `; its line stays below the limit to ${hours(last.hours)}`;
}

/** The picture in words, for whoever can't see it. */
export function wearInWords(group: GroupResult, label: string): string {
  const { fit, band } = group.wear;
  const last = band.at(-1);
  const limits = `Replace at ${millimetres(group.replaceAtMm)}${
    group.unsafeAtMm === null ? "" : `, unsafe at ${millimetres(group.unsafeAtMm)}`
  }.`;
  if (fit === null || last === undefined) {
    return `Wear against flight hours of ${label}. No line is fitted: ${group.wear.why ?? "no readings"}. ${limits}`;
  }
  return (
    `Wear against flight hours of ${label}. The group's line rises by ${boundedRate(fit.ratePer1000H, "mm")} ` +
    `per 1000 h and stands at ${fixed(last.meanMm, 2)} mm after ${hours(last.hours)}; nine components of ten read ` +
    `between ${fixed(last.lowMm, 2)} and ${millimetres(last.highMm)} there. ${limits}`
  );
}

/** How to read the picture, and what was counted. */
export function wearCaption(group: GroupResult, readings: readonly WearReading[], axes: WearAxes): string {
  const size = `${counted(group.components, "component")}, ${counted(readings.length, "reading")}, ${whole(group.overLimitEvents)} over limit.`;
  const ground =
    readings.length <= MOST_SINGLE_READINGS
      ? "Faint lines: components. Marks on the axis: readings."
      : "Too many readings to draw one by one: the ground counts them, darker where there are more.";
  const beyond = strays(readings, axes);
  const farthest = beyond.reduce(
    (most, { wearMm }) => (Math.abs(wearMm) > Math.abs(most) ? wearMm : most),
    0,
  );
  const edge =
    beyond.length === 0
      ? ""
      : ` Triangles at the edge: ${counted(beyond.length, "reading")} beyond the axis, the farthest ${millimetres(farthest)}.`;
  const line =
    group.wear.fit === null
      ? `No line: ${group.wear.why ?? "no readings"}.`
      : "Line: the group. Band: nine components of ten.";
  return `${size} ${ground}${edge} ${line}`;
}
