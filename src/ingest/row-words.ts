/** What lines are told apart by, and how a text from an export is shown. */

const LONGEST_FOUND = 200;

/** Characters that no text has. */
// Form feeds are left alone: reports have them between pages, and they trim away as white space.
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
export const NO_TEXT = /[\u0000-\u0008\u000b\u000e-\u001f\u007f-\u0084\u0086-\u009f\ufffd\ud800]/;
/** What a line of totals begins with. */
export const TOTALS =
  /^(?:(?:grand|report|page|overall|running)\s+|sub-?\s*)?(?:totals?|sums?|count|average|avg|mean|min|max|minimum|maximum|rows?|records?|number of (?:rows|records)|end of (?:report|export|file|list|page)|page)(?=$|[\s:=.])/i;

// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const INVISIBLE = /[\u0000-\u001f\u007f-\u009f]/g;

/** A text as it goes into a problem: bounded, its end marked where it was cut, control characters made visible. */
export function shortened(text: string): string {
  const bounded = text.length > LONGEST_FOUND ? `${text.slice(0, LONGEST_FOUND)}…` : text;
  return bounded.replace(INVISIBLE, (c) =>
    c === "\n" ? "\\n" : `\\x${c.charCodeAt(0).toString(16).padStart(2, "0")}`,
  );
}
