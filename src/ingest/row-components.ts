/** Which component each row is about, from its part number and serial. */
import { UsageError } from "../problems.ts";
import { EMPTY } from "./byte-texts.ts";
import { UNKNOWN_PART } from "./components.ts";
import type { ConvertInput, RowConverter } from "./convert-rows.ts";
import type { RawColumn } from "./raw-table.ts";

export class RowComponents {
  /** Registered number of each row's component; -1 where the row gives aircraft and position instead. */
  readonly numbers: Int32Array;
  readonly #input: ConvertInput;
  readonly #rows: RowConverter;
  readonly #component: RawColumn | null;
  readonly #part: RawColumn | null;
  readonly #partOf: ReadonlyMap<string, number>;
  /** Registered numbers by part code (EMPTY first) and serial code, so that a repeated pair costs no string. */
  readonly #seen: Int32Array[] = [];

  /** Throws UsageError E-FLEET where several parts are in the fleet file and the export has no part column. */
  constructor(input: ConvertInput, rows: RowConverter) {
    const { fleet, spec, raw } = input;
    this.#input = input;
    this.#rows = rows;
    this.#component = raw.column("component");
    this.#part = raw.column("part");
    this.numbers = new Int32Array(raw.rows).fill(-1);
    this.#partOf = new Map(
      fleet.parts.flatMap(({ part, partNumbers }, number) =>
        [part, ...partNumbers].map((word) => [word, number]),
      ),
    );
    if (fleet.parts.length > 1 && this.#component !== null && this.#part === null)
      throw new UsageError(
        "E-FLEET",
        `exports.${spec.kind}.columns: expected a part column, since the fleet file has ${fleet.parts.length} parts`,
      );
  }

  /** Numbers of the rows that nothing is to be said about; the others are marked as odd. */
  convertPlain(odd: Uint8Array): void {
    const { fleet, raw, spec } = this.#input;
    const serials = this.#component?.codes ?? null;
    const parts = this.#part?.codes ?? null;
    const partOf = (this.#part?.texts ?? []).map((text) => this.#partOf.get(text) ?? UNKNOWN_PART);
    const only = fleet.parts.length === 1 ? 0 : UNKNOWN_PART;
    const aircraft = spec.kind === "gaps" ? (raw.column("aircraft")?.codes ?? null) : null;
    const position = spec.kind === "gaps" ? (raw.column("position")?.codes ?? null) : null;
    for (let row = 0; row < raw.rows; row++) {
      const serial = serials === null ? EMPTY : serials[row]!;
      if (serial === EMPTY) {
        const isPlaced =
          aircraft !== null && position !== null && aircraft[row] !== EMPTY && position[row] !== EMPTY;
        if (!isPlaced) odd[row] = 1;
        continue;
      }
      const code = parts === null ? EMPTY : parts[row]!;
      const part = code === EMPTY ? only : partOf[code]!;
      if (part === UNKNOWN_PART) odd[row] = 1;
      else this.numbers[row] = this.#number(part, code, serial);
    }
  }

  /** One row, whatever is in it. */
  convert(row: number): void {
    const { fleet } = this.#input;
    const component = this.#component;
    const serialCode = component === null ? EMPTY : component.codes[row]!;
    if (serialCode === EMPTY) {
      this.#withoutSerial(row);
      return;
    }
    const partColumn = this.#part;
    const partCode = partColumn === null ? EMPTY : partColumn.codes[row]!;
    const partNumber = partColumn === null ? "" : partColumn.text(partCode);
    const part = partCode === EMPTY ? (fleet.parts.length === 1 ? 0 : null) : this.#partOf.get(partNumber);
    if (part === null) {
      const fault = { code: "E-MISSING", expected: "a part number", hint: null } as const;
      this.#rows.refuse(row, this.#rows.headingOf(row, "part"), "", fault);
      return;
    }
    if (part === undefined) this.#rows.unknownWord(row, "part", partNumber, [...this.#partOf.keys()]);
    this.numbers[row] = this.#number(part ?? UNKNOWN_PART, partCode, serialCode);
  }

  #number(part: number, partCode: number, serialCode: number): number {
    const serials = this.#component!;
    let seen = this.#seen[partCode + 1];
    if (seen === undefined) {
      seen = new Int32Array(serials.texts.length).fill(-1);
      this.#seen[partCode + 1] = seen;
    }
    if (seen[serialCode] === -1) {
      const partNumber = this.#part?.text(partCode) ?? "";
      seen[serialCode] = this.#input.registry.number(part, partNumber, serials.text(serialCode));
    }
    return seen[serialCode]!;
  }

  /** Only gaps may name aircraft and position instead of a component. */
  #withoutSerial(row: number): void {
    const { raw, spec } = this.#input;
    const filled = (role: "aircraft" | "position"): boolean =>
      (raw.column(role)?.codes[row] ?? EMPTY) !== EMPTY;
    if (spec.kind === "gaps" && filled("aircraft") && filled("position")) return;
    const expected = spec.kind === "gaps" ? "a serial number, or aircraft and position" : "a serial number";
    this.#rows.refuse(row, this.#rows.headingOf(row, "component"), "", {
      code: "E-MISSING",
      expected,
      hint: null,
    });
  }
}
