/** `rejected.csv`: every row that was refused or remarked on, one line a problem, safe to open in a spreadsheet. */
import type { RowProblem } from "../problems.ts";
import { csvLine } from "../records/csv-cell.ts";

export const REJECTED_CSV_HEADING = "file,line,column,expected,found,hint,code\n";

/** A problem as a line of rejected.csv. */
export const rejectedCsvLine = (problem: RowProblem): string =>
  csvLine([
    problem.file,
    problem.line,
    problem.column,
    problem.expected,
    problem.found,
    problem.hint,
    problem.code,
  ]);
