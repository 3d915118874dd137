/** Planted faults that only show when rows are held against each other. */
import {
  insertAfter,
  type PlantedLine,
  type PlantedSheet,
  type Planting,
  setCell,
  sheetAt,
} from "./planted-lines.ts";

/** One reading where it stands. */
interface Reading {
  readonly sheet: PlantedSheet;
  readonly line: PlantedLine;
  readonly cells: readonly string[];
  readonly hours: number;
  /** NaN where the look was recorded in words. */
  readonly wearMm: number;
}

const decimal = (cell: string): number => Number(cell.replace(",", "."));
const writeComma = (value: number, decimals: number): string => value.toFixed(decimals).replace(".", ",");

/** Grip bearing readings by serial, in the order of the exports. */
function readingsBySerial(sheets: readonly PlantedSheet[]): Map<string, Reading[]> {
  const bySerial = new Map<string, Reading[]>();
  for (const sheet of sheets.filter(({ path }) => path.includes("/wear-"))) {
    for (const line of sheet.lines.slice(1)) {
      const cells = line.text.split(sheet.delimiter);
      if (!cells[5]!.startsWith("GB-")) continue;
      const reading = { sheet, line, cells, hours: decimal(cells[2]!), wearMm: decimal(cells[3]!) };
      const readings = bySerial.get(cells[0]!);
      if (readings === undefined) bySerial.set(cells[0]!, [reading]);
      else readings.push(reading);
    }
  }
  return bySerial;
}

/**
 * Components with at least seven numeric readings, the last one well below the limit: a fault in their middle has
 * neighbours to stand out from, and changes nothing that is urgent.
 */
function quietComponents(sheets: readonly PlantedSheet[]): Reading[][] {
  return [...readingsBySerial(sheets).values()].filter(
    (readings) =>
      readings.length >= 7 &&
      readings.every(({ wearMm }) => wearMm < 0.4) &&
      readings[3]!.wearMm > 0.1 &&
      [2, 3, readings.length - 2].every((index) => !COPIED.includes(readings[index]!.sheet.path)),
  );
}

/** Exports whose rows are planted again in a later one: a fault in them would be undone there. */
const COPIED = ["exports/wear-2024-09.csv", "exports/wear-2025-03.csv"];

/** Faults across rows. They take one component each, so that none hides another. */
export function plantCrossRowFaults(sheets: readonly PlantedSheet[]): Planting[] {
  const quiet = quietComponents(sheets);
  const take = (index: number): readonly Reading[] => {
    const readings = quiet[index];
    if (readings === undefined) throw new Error("too few components to plant faults in");
    return readings;
  };
  return [
    plantFallingHours(take(0)[3]!),
    plantOtherUnit(take(2)[3]!),
    plantFallingWear(take(4)),
    plantTwoPlaces(take(6)[3]!),
    plantTwoPartNumbers(take(8)[3]!),
    plantIdenticalRow(take(10)[2]!),
    plantReadingAfterRemoval(sheets),
    plantOverlap(sheets),
    plantCorrection(sheets),
    plantRemovalTwice(sheets),
    plantAfterAsOf(sheets),
  ];
}

function plantFallingHours({ sheet, line, hours }: Reading): Planting {
  setCell(sheet, line, 2, writeComma(hours / 10, 1));
  return {
    sheet,
    line,
    rows: 1,
    planted: "Hours a tenth of what they were: a digit lost, so that hours fall without a removal.",
    expected:
      "Remarked on with the reading before and after, and left out of the lives: its hours fit neither.",
    code: "W-HOURS-FALL",
  };
}

function plantOtherUnit({ sheet, line, wearMm }: Reading): Planting {
  setCell(sheet, line, 3, writeComma(wearMm * 25.4, 3));
  return {
    sheet,
    line,
    rows: 1,
    planted: "A reading 25.4 times its neighbours.",
    expected: "Remarked on with its neighbours (another unit?), and left out of the lives.",
    code: "W-UNIT-MIX",
  };
}

function plantFallingWear(readings: readonly Reading[]): Planting {
  const { sheet, line } = readings.at(-2)!;
  setCell(sheet, line, 3, "0,030");
  return {
    sheet,
    line,
    rows: 1,
    planted: "Wear that falls to that of a new component and comes back.",
    expected: "Remarked on: it falls by more than the scatter.",
    code: "W-WEAR-FALLS",
  };
}

function plantTwoPlaces({ sheet, line, cells }: Reading): Planting {
  const elsewhere = cells[4] === "SH-101" ? "SH-102" : "SH-101";
  const copy = cells.with(4, elsewhere).with(2, writeComma(decimal(cells[2]!) + 2, 1));
  const added = insertAfter(sheet, line, copy.join(sheet.delimiter));
  return {
    sheet,
    line: added,
    rows: 1,
    planted: "A component read on another aircraft on the same day.",
    expected: "Remarked on with both rows.",
    code: "W-TWO-PLACES",
  };
}

function plantTwoPartNumbers({ sheet, line, cells }: Reading): Planting {
  setCell(sheet, line, 5, cells[5] === "GB-100-1" ? "GB-100-3" : "GB-100-1");
  return {
    sheet,
    line,
    rows: 1,
    planted: "A serial under another part number of the same part.",
    expected: "Remarked on; the reading stays with its component, which is (part, serial).",
    code: "W-TWO-PART-NUMBERS",
  };
}

function plantIdenticalRow({ sheet, line }: Reading): Planting {
  return {
    sheet,
    line: insertAfter(sheet, line, line.text),
    rows: 1,
    planted: "The same row twice in one file.",
    expected: "Repeated, identical: counted once.",
    code: "W-REPEATED",
  };
}

/** Off (for a leaking seal, where one came off so), read again in September: a wrong serial on one of the two cards. */
function plantReadingAfterRemoval(sheets: readonly PlantedSheet[]): Planting {
  // removals: 0 serial, 1 part, 2 date, 3 hours, 4 reason, 5 found, 6 finding, 7 tail, 8 arm, 9 base, 10 ring
  const months = [
    "2025-09",
    "2025-10",
    "2025-11",
    "2025-12",
    "2026-01",
    "2026-02",
    "2026-05",
    "2026-06",
    "2026-07",
    "2026-08",
  ];
  const removals = months.map((month) => sheetAt(sheets, `exports/removals-${month}.csv`));
  const bySerial = readingsBySerial(sheets);
  const read = removals
    .flatMap(({ lines }) => lines.slice(1).map(({ text }) => text.split(";")))
    .filter((cells) => bySerial.has(cells[0]!));
  const leaking = read.filter((cells) => cells[4] === "SEAL LEAK");
  const removed = leaking.at(-1) ?? read.at(-1);
  if (removed === undefined) throw new Error("no removal to plant a later reading after");
  const hours = writeComma(Number(removed[3]) + 31, 1);
  const wear = bySerial.get(removed[0]!)!.at(-1)!.cells[3];
  const row = [removed[0], "21.09.2026", hours, wear, removed[7], removed[1], ...removed.slice(8, 11), ""];
  const sheet = sheetAt(sheets, "exports/wear-2026-09.csv");
  const before =
    sheet.lines.filter(({ text }) => /;(1\d|20)\.09\.2026;/.test(text)).at(-1) ?? sheet.lines.at(-1)!;
  return {
    sheet,
    line: insertAfter(sheet, before, row.join(sheet.delimiter)),
    rows: 1,
    planted: `A reading after the component was removed${leaking.length > 0 ? " for a leaking seal" : ""}.`,
    expected: "Remarked on with the removal's row, and left out of the lives: it begins no new one.",
    code: "W-AFTER-REMOVAL",
  };
}

function plantOverlap(sheets: readonly PlantedSheet[]): Planting {
  const earlier = sheetAt(sheets, "exports/wear-2024-09.csv");
  const sheet = sheetAt(sheets, "exports/wear-2024-10.csv");
  const copies = earlier.lines.slice(-25).map(({ text }) => ({ text }));
  sheet.lines.splice(1, 0, ...copies);
  return {
    sheet,
    line: copies[0]!,
    rows: copies.length,
    planted: "The month's export begins with the last rows of the month before.",
    expected: "Repeated, identical: each counted once.",
    code: "W-REPEATED",
  };
}

function plantCorrection(sheets: readonly PlantedSheet[]): Planting {
  const earlier = sheetAt(sheets, "exports/wear-2025-03.csv");
  const sheet = sheetAt(sheets, "exports/wear-2025-04.csv");
  const copies = earlier.lines.slice(1).map(({ text }) => ({ text }));
  sheet.lines.splice(1, 0, ...copies);
  const corrected = copies.slice(30).find(({ text }) => /;0,1\d\d;/.test(text)) ?? copies.at(-1)!;
  const wear = decimal(corrected.text.split(sheet.delimiter)[3]!);
  setCell(sheet, corrected, 3, writeComma(wear + 0.01, 3));
  return {
    sheet,
    line: corrected,
    rows: copies.length,
    planted: "The export of March 2025 stands in April's again, with the wear of this line corrected.",
    expected: "Repeated: one row superseded by this later value, the others identical.",
    code: "W-REPEATED",
  };
}

function plantRemovalTwice(sheets: readonly PlantedSheet[]): Planting {
  const earlier = sheetAt(sheets, "exports/removals-2026-03.csv");
  const sheet = sheetAt(sheets, "exports/removals-2026-04.csv");
  return {
    sheet,
    line: insertAfter(sheet, sheet.lines[0]!, earlier.lines.at(-1)!.text),
    rows: 1,
    planted: "A removal of the month before once more.",
    expected: "Repeated, identical: one removal.",
    code: "W-REPEATED",
  };
}

function plantAfterAsOf(sheets: readonly PlantedSheet[]): Planting {
  const sheet = sheetAt(sheets, "exports/wear-2026-09.csv");
  const last = sheet.lines.at(-1)!;
  const cells = last.text.split(sheet.delimiter);
  const later = cells.with(1, "02.10.2026").with(2, writeComma(decimal(cells[2]!) + 3, 1));
  return {
    sheet,
    line: insertAfter(sheet, last, later.join(sheet.delimiter)),
    rows: 1,
    planted: "A reading of 2 October 2026, after the month that is reported.",
    expected: "Accepted and counted as after as-of: not used.",
    code: null,
  };
}
