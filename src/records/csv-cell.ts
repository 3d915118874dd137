/**
 * One cell of a CSV file that we write: quoted where it must be, and inert in a spreadsheet.
 *
 * A cell that begins with = + - @ (or tab, carriage return) is run as a formula by spreadsheets, so text that came from
 * an export gets an apostrophe before it (OWASP, "CSV Injection"). A plain number keeps its minus sign.
 */

const RUNS_IN_SPREADSHEET = /^\s*[=+\-@\uFF1D\uFF0B\uFF0D\uFF20]|^[\t\r]/;
const PLAIN_NUMBER = /^[+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?$/;

/** Text that nothing has to be done for, which nearly all is: told first, since a month writes millions of cells. */
const HARMLESS = /^[A-Za-z0-9][\w .:/-]*$/;

/** A cell of a comma-separated file. null is an empty cell. */
export function csvCell(value: string | number | null): string {
  if (value === null) return "";
  if (typeof value === "number") return String(value);
  if (HARMLESS.test(value)) return value;
  const safe = RUNS_IN_SPREADSHEET.test(value) && !PLAIN_NUMBER.test(value) ? `'${value}` : value;
  return /[",\r\n;\t]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** A line of a comma-separated file, with its line end. */
export function csvLine(cells: readonly (string | number | null)[]): string {
  let line = "";
  for (let at = 0; at < cells.length; at++)
    line += at === 0 ? csvCell(cells[at]!) : `,${csvCell(cells[at]!)}`;
  return `${line}\n`;
}
