/** A change of wear rate in words: its size, and when it came. */
import type { GroupResult } from "../interval/month-result.ts";
import type { RateChange } from "../wear/rate-change.ts";
import { boundedRate, whole } from "./number-format.ts";

/** "0.10 (0.05–0.14) mm per 1000 h slower" */
export function changeText({
  changeMmPer1000Hours: by,
  lower,
  upper,
}: RateChange & { kind: "fitted" }): string {
  const size = by < 0 ? { estimate: -by, lower: -upper, upper: -lower } : { estimate: by, lower, upper };
  return `${boundedRate(size)} mm per 1000 h ${by < 0 ? "slower" : "faster"}`;
}

/** Since when a group wears otherwise, and what follows from it; nothing where no date shows a change. */
export function dateWords(atDate: GroupResult["wearChecks"]["shape"]["atDate"]): string[] {
  if (atDate === null || atDate.change.kind !== "fitted") return [];
  const { change, day, tried } = atDate;
  if (change.lower <= 0 && change.upper >= 0) return [];
  return [
    `From about ${day} components wear ${changeText(change)} (bounds allow for the ${whole(tried)} dates tried): every fit mixes the rates before and after; find what changed then.`,
  ];
}
