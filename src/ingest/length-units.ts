/** Which unit a length is in: the cell's own, else the row's unit column, else the heading's, else the fleet file's. */
import { ExportError } from "../problems.ts";
import { LOOK } from "../records/exports.ts";
import { type LengthUnit, MM_PER } from "../units.ts";
import { EMPTY } from "./byte-texts.ts";
import { CELL, UNIT_NUMBERS } from "./code-table.ts";
import type { ConvertInput, RowConverter } from "./convert-rows.ts";
import { LENGTH_UNITS } from "./parse-length.ts";
import type { PlainColumn } from "./plain-cells.ts";

/** Wear and gaps beyond this are no lengths of a rotor head, whatever the unit; below nought a little is scatter. */
const MOST_MM = 1000;
const LEAST_MM = -1;

export class LengthUnits {
  readonly #input: ConvertInput;
  readonly #rows: RowConverter;
  readonly #fileUnits: readonly (LengthUnit | null)[];

  /** Throws ExportError E-UNIT where a heading and the fleet file disagree. */
  constructor(input: ConvertInput, rows: RowConverter) {
    this.#input = input;
    this.#rows = rows;
    const set = typeof input.spec.unit === "string" ? input.spec.unit : null;
    this.#fileUnits = input.files.map(({ path, heading }) => {
      if (set !== null && heading.unit !== null && set !== heading.unit)
        throw new ExportError(
          "E-UNIT",
          `${path}:${heading.line}: the heading says ${heading.unit}, the fleet file's unit says ${set}: mend one of them`,
        );
      return heading.unit ?? set;
    });
  }

  /** Lengths to millimetres and kinds of look, where nothing is to be said; the other rows are marked as odd. */
  convertPlain({ codes, tables, out }: PlainColumn, look: Uint8Array | null, odd: Uint8Array): void {
    if (codes === null) return;
    const byRow = this.#input.raw.column("unit") !== null;
    for (const [at, { firstRow, endRow }] of this.#input.files.entries()) {
      const { status, value, unit, look: kinds } = tables[at]!;
      const ofFile = this.#fileUnits[at]!;
      // By the cell's unit, from -1: it doesn't say. NaN where that is still to be found out.
      const factors = [byRow || ofFile === null ? Number.NaN : MM_PER[ofFile]];
      for (const name of UNIT_NUMBERS) factors.push(MM_PER[name]);
      for (let row = firstRow; row < endRow; row++) {
        const code = codes[row]!;
        if (code === EMPTY || status[code] === CELL.bad) continue;
        const kind = kinds![code]!;
        if (look !== null) look[row] = kind;
        if (kind !== LOOK.number) continue;
        const mm = value[code]! * factors[unit![code]! + 1]!;
        if (mm >= LEAST_MM && mm <= MOST_MM) out[row] = mm;
        else odd[row] = 1;
      }
    }
  }

  /** A length as written to millimetres; refuses the row where it can't be. Throws where no unit is known at all. */
  millimetres(row: number, at: number, value: number, cellUnit: number, text: string): number {
    const role = this.#input.spec.kind === "gaps" ? "gap" : "wear";
    const unit = cellUnit >= 0 ? UNIT_NUMBERS[cellUnit]! : this.#unitOf(row, at);
    if (unit === "refused") return 0;
    if (unit === null)
      throw new ExportError(
        "E-UNIT",
        `${this.#input.files[at]!.path}: neither cell, heading nor fleet file says what unit ${JSON.stringify(text)} is in: set unit under exports.${this.#input.spec.kind} in the fleet file (mm, um, in, thou)`,
      );
    const mm = value * MM_PER[unit];
    if (mm < LEAST_MM || mm > MOST_MM)
      this.#rows.refuse(row, this.#rows.headingOf(row, role), text, {
        code: "E-RANGE",
        expected: `from ${LEAST_MM} to ${MOST_MM} mm`,
        hint: `read as ${unit}; another unit?`,
      });
    return mm;
  }

  #unitOf(row: number, at: number): LengthUnit | null | "refused" {
    const column = this.#input.raw.column("unit");
    if (column === null) return this.#fileUnits[at]!;
    const code = column.codes[row]!;
    if (code === EMPTY) {
      const fallback = this.#fileUnits[at]!;
      if (fallback !== null) return fallback;
    }
    const text = column.text(code);
    const unit = LENGTH_UNITS.get(text.toLowerCase());
    if (unit !== undefined) return unit;
    const fault = { code: "E-UNIT", expected: "mm, um, in or thou", hint: null } as const;
    this.#rows.refuse(row, this.#rows.headingOf(row, "unit"), text, fault);
    return "refused";
  }
}
