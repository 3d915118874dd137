/** Which unit a length is in: the cell's own, else the row's unit column, else the heading's, else the fleet file's. */
import { ExportError } from "../problems.ts";
import { type LengthUnit, MM_PER } from "../units.ts";
import { EMPTY } from "./byte-texts.ts";
import { UNIT_NUMBERS } from "./code-table.ts";
import type { ConvertInput, RowConverter } from "./convert-rows.ts";
import { LENGTH_UNITS } from "./parse-length.ts";

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
