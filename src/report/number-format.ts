/**
 * How numbers are written on the pages: one place, no locale. A number carries what it is worth, so bounds decide how
 * many decimals stand; a value never rounds to the other side of the level it is compared with, and a bound is rounded
 * outward: an upper one up, a lower one down.
 *
 * Thin joining spaces keep a number and its unit on one line. Thousands are set apart from five digits on.
 */
import type { Bounded } from "../interval/month-result.ts";
import { type Rounding, rounded } from "../math/rounded.ts";
import { type Day, isoDate } from "../units.ts";

/** Narrow no-break space: between a number and its unit, and between groups of three digits. */
export const THIN = "\u202f";
const MINUS = "\u2212";
const MONTHS = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
];

/** A number with a fixed count of decimals: "0.52", "12 300", "−3". */
export function fixed(value: number, decimals: number, rounding: Rounding = "nearest"): string {
  if (!Number.isFinite(value)) throw new RangeError(`fixed requires a finite number, got ${value}`);
  const shown = rounding === "nearest" ? value : rounded(value, decimals, rounding);
  const [whole = "", fraction] = Math.abs(shown).toFixed(decimals).split(".");
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, THIN) : whole;
  const digits = fraction === undefined ? grouped : `${grouped}.${fraction}`;
  return value < 0 && /[1-9]/.test(digits) ? `${MINUS}${digits}` : digits;
}

/** A number without decimals. */
export const whole = (value: number, rounding?: Rounding): string => fixed(value, 0, rounding);

/** Decimals that show `digits` significant digits of a value (0 to 6). */
export function decimalsFor(value: number, digits = 2): number {
  if (value === 0) return 0;
  const exponent = Math.floor(Math.log10(Math.abs(Number(value.toPrecision(digits)))));
  return Math.min(6, Math.max(0, digits - 1 - exponent));
}

/** "410 h" */
export const hours = (value: number): string => `${whole(value)}${THIN}h`;

/** "0.52 mm" */
export const millimetres = (value: number, decimals = 2): string => `${fixed(value, decimals)}${THIN}mm`;

/** "1 look", "3 looks" */
export const counted = (count: number, noun: string, plural = `${noun}s`): string =>
  `${whole(count)} ${count === 1 ? noun : plural}`;

/** How a bound is written: rounded as it is told. */
export type WriteBound = (value: number, rounding: Rounding) => string;

/** Bounds in brackets, rounded outward: "(350–520)", "(at least 350)", "(at most 520)", "(no bound)". */
export function brackets(bounded: Bounded, write: WriteBound): string {
  const { lower, upper } = bounded;
  if (lower !== null && upper !== null) return `(${write(lower, "down")}–${write(upper, "up")})`;
  if (lower !== null) return `(at least ${write(lower, "down")})`;
  if (upper !== null) return `(${atMost(write(upper, "up"))})`;
  return "(no bound)";
}

/** "at most 5.2 %"; what is "under 0.001 %" is at most that already. */
export const atMost = (text: string): string => (text.startsWith("under ") ? text : `at most ${text}`);

/** "410 h (350–520)": whole hours. */
export const boundedHours = (bounded: Bounded): string =>
  `${hours(bounded.estimate)} ${brackets(bounded, whole)}`;

/** Decimals for a rate: two significant digits of its wider bound, so that the estimate says no more than they do. */
export function rateDecimals(bounded: Bounded): number {
  return decimalsFor(bounded.upper ?? bounded.lower ?? bounded.estimate);
}

/** "0.42 (0.38–0.47)"; the unit stands in the column head, or is given here. */
export function boundedRate(bounded: Bounded, unit = ""): string {
  const decimals = rateDecimals(bounded);
  const write = (value: number, rounding?: Rounding): string => fixed(value, decimals, rounding);
  return `${write(bounded.estimate)}${unit === "" ? "" : `${THIN}${unit}`} ${brackets(bounded, write)}`;
}

/** The shape of a Weibull and other numbers of order one: two decimals. */
export const boundedPlain = (bounded: Bounded, decimals = 2): string =>
  `${fixed(bounded.estimate, decimals)} ${brackets(bounded, (value, rounding) => fixed(value, decimals, rounding))}`;

const SMALLEST_SHARE = 0.00001;

/** Percent digits of a share without the sign: "0.8", "12", "0.034"; "under 0.001" below that, "0" at none. */
export function percent(share: number, rounding: Rounding = "nearest"): string {
  if (share === 0) return "0";
  if (share > 0 && share < SMALLEST_SHARE) return rounding === "down" ? "0" : "under 0.001";
  if (share > 0.995 && share < 1) return percentFar(rounding);
  const value = rounded(100 * share, percentDecimals(share), rounding);
  return fixed(value, percentDecimals(rounding === "nearest" ? share : value / 100));
}

/** Of nearly all: "at least 99", "at most 100". */
const percentFar = (rounding: Rounding): string =>
  rounding === "nearest" ? "over 99" : rounding === "up" ? "100" : "99";

const percentDecimals = (share: number): number => Math.min(3, decimalsFor(100 * share));

/** "0.8 %" */
export const share = (value: number, rounding?: Rounding): string => `${percent(value, rounding)}${THIN}%`;

/** "4.1 % (2.6–6.2)" or, one-sided, "4.1 % (at most 6.2 %)". */
export function boundedShare(bounded: Bounded): string {
  if (bounded.lower !== null && bounded.upper !== null)
    return `${share(bounded.estimate)} ${brackets(bounded, percent)}`;
  return `${share(bounded.estimate)} ${brackets(bounded, share)}`;
}

/**
 * A share beside the level it is held against: as many digits as it takes for the page to show on which side it lies
 * (0.0996 against 0.10 is "9.96 %", never "10 %"), rounded as it is told.
 */
export function shareAgainst(value: number, level: number, rounding: Rounding = "nearest"): string {
  if (value === level) return share(value);
  if (tells(value, level, percentDecimals(value), percentDecimals(level), rounding))
    return share(value, rounding);
  for (let decimals = 1; decimals <= 8; decimals += 1) {
    if (tells(value, level, decimals, decimals, rounding))
      return `${fixed(100 * value, decimals, rounding)}${THIN}%`;
  }
  return `${value < level ? "just under" : "just over"} ${share(level)}`;
}

/** Whether so many decimals show on which side of the level a value lies: at the nearest, and as rounded. */
function tells(value: number, level: number, own: number, levels: number, rounding: Rounding): boolean {
  if (rounded(100 * value, own) === rounded(100 * level, levels)) return false;
  const shown = rounded(100 * value, own, rounding);
  return Math.sign(shown - rounded(100 * level, 9)) === Math.sign(value - level);
}

const FIGURE_SPACE = "\u2007";
const POINT_SPACE = "\u2008";

/** Numbers of one column with spaces as wide as figures behind them, so that their decimal points stand in line. */
export function alignedOnPoint(numbers: readonly string[]): readonly string[] {
  const isNumber = (text: string): boolean => /\d$/.test(text);
  const decimals = (text: string): number => (text.includes(".") ? text.length - text.indexOf(".") - 1 : -1);
  const most = Math.max(-1, ...numbers.filter(isNumber).map(decimals));
  return numbers.map((text) => {
    if (!isNumber(text)) return text;
    const point = decimals(text) < 0 && most >= 0 ? POINT_SPACE : "";
    return text + point + FIGURE_SPACE.repeat(Math.max(0, most) - Math.max(0, decimals(text)));
  });
}

/** A day as YYYY-MM-DD, or a dash where it is not known. */
export const date = (day: Day | null): string => (day === null ? "–" : isoDate(day));

/** "2026-03" as "March 2026". Throws on anything else: the month comes from the program, never from an export. */
export function monthName(month: string): string {
  const match = /^(\d{4})-(\d{2})$/.exec(month);
  const name = match === null ? undefined : MONTHS[Number(match[2]) - 1];
  if (match === null || name === undefined) throw new RangeError(`monthName requires YYYY-MM, got ${month}`);
  return `${name} ${match[1]}`;
}

/** "a", "a and b", "a, b and c"; past `most` items "a, b, c and 4 more". */
export function listed(items: readonly string[], most = Number.POSITIVE_INFINITY): string {
  const shown = items.slice(0, most);
  const hidden = items.length - shown.length;
  const all = hidden > 0 ? [...shown, `${whole(hidden)} more`] : shown;
  if (all.length < 2) return all.join("");
  return `${all.slice(0, -1).join(", ")} and ${all.at(-1)}`;
}
