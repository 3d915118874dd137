/** Numbers as exports write them: decimal point or comma, thousands marks, hours and minutes. */

export type Decimal = "." | ",";

/** What a number's text says about the decimal mark. */
export type DecimalEvidence = "point" | "comma" | "either" | "ambiguous" | "none";

// Thousands marks other than point and comma: space, no-break space, narrow no-break space, apostrophe.
const GROUP = "[ \\u00a0\\u202f'\\u2019]";
const WHOLE = new RegExp(`^[+-]?(?:\\d+|\\d{1,3}(?:${GROUP}\\d{3})+)$`);
const patternFor = (decimal: string, thousands: string): RegExp =>
  new RegExp(
    `^[+-]?(?:\\d+|\\d{1,3}(?:${GROUP}\\d{3})+|[1-9]\\d{0,2}(?:${thousands}\\d{3})+)?(?:${decimal}\\d*)?(?:[eE][+-]?\\d{1,3})?$`,
  );
const PATTERNS: Readonly<Record<Decimal, RegExp>> = {
  ".": patternFor("\\.", ","),
  ",": patternFor(",", "\\."),
};
const HOURS_MINUTES = /^(\d+):([0-5]\d)$/;

/**
 * Which decimal mark a text speaks for. "ambiguous": it holds a mark and reads as a number both ways with other values
 * (1,234); "either": no mark at stake; "none": no number.
 */
export function decimalEvidence(text: string): DecimalEvidence {
  if (WHOLE.test(text) || HOURS_MINUTES.test(text)) return "either";
  const point = parseNumber(text, ".");
  const comma = parseNumber(text, ",");
  if (point === null) return comma === null ? "none" : "comma";
  if (comma === null) return "point";
  return point === comma ? "either" : "ambiguous";
}

/** The number a text stands for, or null where it is none with this decimal mark. */
export function parseNumber(text: string, decimal: Decimal): number | null {
  if (!/\d/.test(text) || !PATTERNS[decimal].test(text)) return null;
  const plain = text.replace(/[^\d+\-eE.,]/g, "");
  const value = Number(
    decimal === "." ? plain.replaceAll(",", "") : plain.replaceAll(".", "").replace(",", "."),
  );
  return Number.isFinite(value) ? value : null;
}

const HOURS_UNIT = /\s*(?:h|hr|hrs|hours?|fh|f\.h\.)\.?$/i;

/** The text of flight hours without its unit ("612.4 FH"), if it has one. */
export const withoutHoursUnit = (text: string): string => text.replace(HOURS_UNIT, "");

/** As many characters can't be more than a number can hold. */
const MOST_PLAIN = 30;
const PLAIN_HOURS: Readonly<Record<Decimal, RegExp>> = { ".": /^\d+(?:\.\d+)?$/, ",": /^\d+(?:,\d+)?$/ };

/** Flight hours: a number, or hours and minutes ("612:24"); null where it is neither. */
export function parseHours(text: string, decimal: Decimal): number | null {
  // Nearly all are digits and a mark, and need no more than that.
  if (text.length <= MOST_PLAIN && PLAIN_HOURS[decimal].test(text)) return Number(text.replace(",", "."));
  const bare = withoutHoursUnit(text);
  const clock = HOURS_MINUTES.exec(bare);
  return clock ? Number(clock[1]) + Number(clock[2]) / 60 : parseNumber(bare, decimal);
}
