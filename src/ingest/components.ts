/** Numbers for components: identity is (part, serial), the same number in every export. */
import type { ComponentTable } from "../records/exports.ts";

/** Part of components whose part number the fleet file doesn't know; they are left out in the end. */
export const UNKNOWN_PART = -1;

export class ComponentRegistry {
  readonly parts: number[] = [];
  readonly serials: string[] = [];
  /** By part (the part number as recorded where the part is unknown), then serial. */
  readonly #numbers = new Map<number | string, Map<string, number>>();

  /**
   * Number of a component, new or known.
   * @param part        number of the part in the fleet file, or UNKNOWN_PART
   * @param partNumber  as recorded; tells components of unknown parts apart
   */
  number(part: number, partNumber: string, serial: string): number {
    const owner = part === UNKNOWN_PART ? partNumber : part;
    let numbers = this.#numbers.get(owner);
    if (numbers === undefined) {
      numbers = new Map();
      this.#numbers.set(owner, numbers);
    }
    let number = numbers.get(serial);
    if (number === undefined) {
      number = this.parts.length;
      this.parts.push(part);
      this.serials.push(serial);
      numbers.set(serial, number);
    }
    return number;
  }

  /**
   * The components of known parts, in order of part and serial (by code unit), whatever the order of the rows: so the
   * order of rows never matters to a result. `place`: each registered number's place among them (-1: unknown part).
   */
  known(): { table: ComponentTable; place: Int32Array } {
    const place = new Int32Array(this.parts.length).fill(-1);
    const kept = this.parts.flatMap((part, number) => (part === UNKNOWN_PART ? [] : [number]));
    const { parts, serials } = this;
    kept.sort(
      (a, b) => parts[a]! - parts[b]! || (serials[a]! < serials[b]! ? -1 : serials[a]! > serials[b]! ? 1 : 0),
    );
    for (const [at, number] of kept.entries()) place[number] = at;
    return {
      table: {
        count: kept.length,
        part: Int32Array.from(kept, (number) => parts[number]!),
        serial: kept.map((number) => serials[number]!),
      },
      place,
    };
  }
}
