/**
 * Planted faults that concern one row, or the shape of one file.
 *
 * Long because it is a catalogue: one short entry a fault, nothing shared to split it by.
 */

import type { ProblemCode } from "../problems.ts";
import {
  insertAfter,
  type PlantedLine,
  type PlantedSheet,
  type Planting,
  setCell,
  sheetAt,
} from "./planted-lines.ts";

/** A row well inside a sheet, `share` of the way down. */
function rowAt(sheet: PlantedSheet, share: number): PlantedLine {
  const line = sheet.lines[1 + Math.floor(share * (sheet.lines.length - 2))];
  if (line === undefined) throw new Error(`${sheet.path} has no row to plant a fault in`);
  return line;
}

interface CellFault {
  readonly path: string;
  readonly share: number;
  readonly column: number;
  /** The new cell, from the old one. */
  readonly cell: (old: string) => string;
  readonly planted: string;
  readonly expected: string;
  readonly code: ProblemCode | null;
}

const REFUSED = "Refused: the row is in rejected.csv with line and column, the run goes on.";

// Columns of the wear export: 0 serial, 1 date, 2 hours, 3 wear, 4 tail, 5 part, 6 arm, 7 base, 8 ring, 9 remarks.
const CELL_FAULTS: readonly CellFault[] = [
  {
    path: "exports/wear-2025-02.csv",
    share: 0.2,
    column: 2,
    cell: (old) => old.replace(",", "."),
    planted: "Hours with a decimal point in an export that writes decimal commas.",
    expected: REFUSED,
    code: "E-NUMBER",
  },
  {
    path: "exports/wear-2022-09.csv",
    share: 0.35,
    column: 1,
    cell: () => "",
    planted: "No inspection date.",
    expected: REFUSED,
    code: "E-MISSING",
  },
  {
    path: "exports/wear-2023-09.csv",
    share: 0.6,
    column: 1,
    cell: () => "31.02.2023",
    planted: "A date that there isn't: 31 February.",
    expected: REFUSED,
    code: "E-DATE",
  },
  {
    path: "exports/wear-2024-11.csv",
    share: 0.5,
    column: 2,
    cell: () => "-12,0",
    planted: "Negative hours.",
    expected: REFUSED,
    code: "E-RANGE",
  },
  {
    path: "exports/wear-2025-08.csv",
    share: 0.45,
    column: 2,
    cell: () => "",
    planted: "No hours.",
    expected: REFUSED,
    code: "E-MISSING",
  },
  {
    path: "exports/wear-2025-09.csv",
    share: 0.3,
    column: 3,
    cell: () => "see card",
    planted: "Words that are neither a number nor one of the recorded wear words.",
    expected: "Accepted but unassigned; the word is listed with its count.",
    code: "W-UNKNOWN-WORD",
  },
  {
    path: "exports/removals-2025-11.csv",
    share: 0.5,
    column: 4,
    cell: () => "WORN OUT",
    planted: "A reason for removal that the fleet file doesn't know.",
    expected: "Accepted but unassigned; the word is listed with its count and its near match WORN.",
    code: "W-UNKNOWN-WORD",
  },
  {
    path: "exports/wear-2025-10.csv",
    share: 0.5,
    column: 9,
    cell: () => "<script>alert(1)</script><b>worn</b>",
    planted: "HTML in the remarks.",
    expected: "Accepted; wherever the text is shown, it is shown as text.",
    code: null,
  },
  {
    path: "exports/removals-2026-01.csv",
    share: 0.5,
    column: 6,
    cell: () => "=cmd|' /C calc'!A0",
    planted: "A cell that a spreadsheet would run, as the shop's finding.",
    expected: "Accepted, the finding unassigned as an unknown word; neutralised in every CSV that shows it.",
    code: "W-UNKNOWN-WORD",
  },
  {
    path: "exports/wear-2026-02.csv",
    share: 0.7,
    column: 7,
    cell: (old) => ` ${old} `,
    planted: "Blanks around the base.",
    expected: "Accepted: the word is known without them.",
    code: null,
  },
  {
    path: "exports/installed-2026-09.csv",
    share: 0.25,
    column: 0,
    cell: () => "",
    planted: "A fitted component without a serial.",
    expected: REFUSED,
    code: "E-MISSING",
  },
];

/** Faults of single rows. */
export function plantRowFaults(sheets: readonly PlantedSheet[]): Planting[] {
  const cellFaults = CELL_FAULTS.map(({ path, share, column, cell, planted, expected, code }) => {
    const sheet = sheetAt(sheets, path);
    const line = rowAt(sheet, share);
    setCell(sheet, line, column, cell(line.text.split(sheet.delimiter)[column] ?? ""));
    return { sheet, line, rows: 1, planted, expected, code };
  });
  return [
    ...cellFaults,
    plantDecimalComma(sheets),
    ...plantUnknownBase(sheets),
    ...plantColumnFaults(sheets),
  ];
}

/** The right row stays, so that nobody believes the component to be fitted still. */
function plantDecimalComma(sheets: readonly PlantedSheet[]): Planting {
  const sheet = sheetAt(sheets, "exports/removals-2025-05.csv");
  const right = rowAt(sheet, 0.4);
  const line = insertAfter(sheet, right, right.text);
  setCell(sheet, line, 3, (line.text.split(";")[3] ?? "").replace(".", ","));
  return {
    sheet,
    line,
    rows: 1,
    planted: "A removal entered twice, once with a decimal comma where the export writes decimal points.",
    expected: REFUSED,
    code: "E-NUMBER",
  };
}

function plantUnknownBase(sheets: readonly PlantedSheet[]): Planting[] {
  const sheet = sheetAt(sheets, "exports/wear-2026-04.csv");
  const lines = sheet.lines.filter((line) => line.text.includes(";Saltpan North;")).slice(0, 6);
  for (const line of lines) line.text = line.text.replace(";Saltpan North;", ";SALT PAN;");
  return [
    {
      sheet,
      line: lines[0] ?? null,
      rows: lines.length,
      planted: "A base that the fleet file doesn't know: SALT PAN.",
      expected: "Accepted but unassigned; the word is listed with its count and its near match.",
      code: "W-UNKNOWN-WORD",
    },
  ];
}

function plantColumnFaults(sheets: readonly PlantedSheet[]): Planting[] {
  const gaps = sheetAt(sheets, "exports/gaps-2025-06.csv");
  const comma = rowAt(gaps, 0.3);
  setCell(gaps, comma, 4, (comma.text.split(",")[4] ?? "").replace(".", ","));
  const extra = sheetAt(sheets, "exports/wear-2025-12.csv");
  const split = rowAt(extra, 0.4);
  split.text = `${split.text.replace(/;[^;]*$/, ";cleaned")}; then measured`;
  const quoted = sheetAt(sheets, "exports/wear-2025-07.csv");
  const open = rowAt(quoted, 0.55);
  open.text = open.text.replace(/;[^;]*$/, ';"play felt');
  return [
    {
      sheet: gaps,
      line: comma,
      rows: 1,
      planted: "A decimal comma where commas part the cells: one cell too many.",
      expected: REFUSED,
      code: "E-COLUMNS",
    },
    {
      sheet: extra,
      line: split,
      rows: 1,
      planted: "A semicolon inside an unquoted remark: one cell too many.",
      expected: REFUSED,
      code: "E-COLUMNS",
    },
    {
      sheet: quoted,
      line: open,
      rows: 1,
      planted: "A quote that opens in the remarks and never closes.",
      expected: "This row is refused; every row after it is kept.",
      code: "E-QUOTE",
    },
  ];
}

const MET = "Met and counted in the ledger; no row is lost.";

/** Faults in the shape of a file. */
export function plantFileFaults(sheets: readonly PlantedSheet[]): Planting[] {
  return [
    plantPreamble(sheetAt(sheets, "exports/wear-2025-01.csv")),
    plantTotals(sheetAt(sheets, "exports/wear-2025-03.csv")),
    plantRepeatedHeading(sheetAt(sheets, "exports/wear-2024-09.csv")),
    plantBlankLines(sheetAt(sheets, "exports/wear-2024-12.csv")),
    plantTrailingDelimiters(sheetAt(sheets, "exports/removals-2025-01.csv")),
    plantMixedLineEnds(sheetAt(sheets, "exports/wear-2026-06.csv")),
    plantByteOrderMark(sheetAt(sheets, "exports/gaps-2025-01.csv")),
  ];
}

function plantPreamble(sheet: PlantedSheet): Planting {
  const first = { text: "Wear readings;;;;;;;;;" };
  sheet.lines.unshift(first, { text: "Period;01.01.2025;31.01.2025;;;;;;;" }, { text: "" });
  return {
    sheet,
    line: first,
    rows: 0,
    planted: "Three lines before the heading: a title, the period, a blank line.",
    expected: "The heading is found on line 4 and that is reported.",
    code: null,
  };
}

function plantTotals(sheet: PlantedSheet): Planting {
  const rows = sheet.lines.length - 1;
  const line = insertAfter(sheet, sheet.lines.at(-1)!, `Total;;${rows} readings;;;;;;;`);
  return {
    sheet,
    line,
    rows: 0,
    planted: "A totals row at the end.",
    expected: "Counted as a totals line, not as a row.",
    code: null,
  };
}

function plantRepeatedHeading(sheet: PlantedSheet): Planting {
  const line = insertAfter(sheet, rowAt(sheet, 0.5), sheet.lines[0]!.text);
  return {
    sheet,
    line,
    rows: 0,
    planted: "The heading again in the middle of the file.",
    expected: "Counted as a heading, not as a row.",
    code: null,
  };
}

function plantBlankLines(sheet: PlantedSheet): Planting {
  const line = insertAfter(sheet, rowAt(sheet, 0.3), "");
  insertAfter(sheet, line, "");
  insertAfter(sheet, sheet.lines.at(-1)!, "");
  return {
    sheet,
    line,
    rows: 0,
    planted: "Two blank lines in the middle and one at the end.",
    expected: MET,
    code: null,
  };
}

function plantTrailingDelimiters(sheet: PlantedSheet): Planting {
  for (const line of sheet.lines.slice(1)) line.text += ";;";
  return {
    sheet,
    line: sheet.lines[1] ?? null,
    rows: sheet.lines.length - 1,
    planted: "Two empty cells too many on every row.",
    expected: "Accepted: the cells past the heading are empty.",
    code: null,
  };
}

function plantMixedLineEnds(sheet: PlantedSheet): Planting {
  const from = Math.floor(sheet.lines.length / 2);
  for (const line of sheet.lines.slice(from)) line.end = "\n";
  return {
    sheet,
    line: sheet.lines[from] ?? null,
    rows: sheet.lines.length - from,
    planted: "Line ends change from CR LF to LF half-way through.",
    expected: MET,
    code: null,
  };
}

function plantByteOrderMark(sheet: PlantedSheet): Planting {
  sheet.byteOrderMark = true;
  return {
    sheet,
    line: sheet.lines[0] ?? null,
    rows: 0,
    planted: "A byte-order mark before the first heading.",
    expected: "Met: the first heading is read as Tail.",
    code: null,
  };
}
