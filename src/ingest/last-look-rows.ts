/** The last look of each component as wear rows: what "act now" and overdue looks need of the readings. */

import { LOOK, type TextColumn, type WearRows } from "../records/exports.ts";
import type { Day } from "../units.ts";

export interface LastLook {
  readonly component: number;
  readonly day: Day;
  readonly hours: number;
  /** null: in words. */
  readonly wearMm: number | null;
  readonly over: boolean;
  readonly aircraft: string;
  readonly position: string;
  readonly environment: string;
  readonly standard: string;
  readonly file: number;
  readonly line: number;
}

/** One row a component, in the order given. */
export function lastLookRows(looks: readonly LastLook[]): WearRows {
  return {
    rows: looks.length,
    file: Uint16Array.from(looks, ({ file }) => file),
    line: Int32Array.from(looks, ({ line }) => line),
    unassigned: new Uint8Array(looks.length),
    component: Int32Array.from(looks, ({ component }) => component),
    day: Int32Array.from(looks, ({ day }) => day),
    hours: Float64Array.from(looks, ({ hours }) => hours),
    wearMm: Float64Array.from(looks, ({ wearMm }) => wearMm ?? Number.NaN),
    look: Uint8Array.from(looks, ({ wearMm, over }) =>
      wearMm !== null ? LOOK.number : over ? LOOK.overLimit : LOOK.belowLimit,
    ),
    aircraft: textColumn(looks.map(({ aircraft }) => aircraft)),
    position: textColumn(looks.map(({ position }) => position)),
    environment: textColumn(looks.map(({ environment }) => environment)),
    standard: textColumn(looks.map(({ standard }) => standard)),
    partNumber: textColumn(looks.map(() => "")),
  };
}

function textColumn(texts: readonly string[]): TextColumn {
  const words = [...new Set(texts)].filter((text) => text !== "");
  const place = new Map(words.map((word, i) => [word, i]));
  return { codes: Int32Array.from(texts, (text) => place.get(text) ?? -1), words };
}
