/** Lives put together again from their pieces: readings with the hours flown in each environment up to each. */
import { aircraftNumbers } from "./event-table.ts";
import type { Life } from "./life.ts";
import { UNASSIGNED } from "./words.ts";

export interface WholeLife {
  readonly component: number;
  /** In order; never empty. */
  readonly pieces: readonly [Life, ...Life[]];
  /** Aircraft of its last row; "" where none is recorded. */
  readonly aircraft: string;
}

/** Lives of one part by component and life, pieces in order. Those with an unassigned piece are left out. */
export function wholeLives(lives: readonly Life[]): WholeLife[] {
  const byLife = new Map<string, [Life, ...Life[]]>();
  for (const life of lives) {
    const key = `${life.component} ${life.life}`;
    const known = byLife.get(key);
    if (known) known.push(life);
    else byLife.set(key, [life]);
  }
  return [...byLife.values()]
    .map((pieces) => pieces.sort((a, b) => a.piece - b.piece))
    .filter((pieces) =>
      pieces.every(({ group }) => group.environment !== UNASSIGNED && group.standard !== UNASSIGNED),
    )
    .sort(([a], [b]) => a.component - b.component || a.life - b.life)
    .map((pieces) => ({ component: pieces[0].component, pieces, aircraft: pieces.at(-1)!.aircraft }));
}

/** The piece that the hours just before `hours` belong to. Hours before the records are taken as the first piece's. */
export function pieceAt({ pieces }: WholeLife, hours: number): Life {
  return pieces.findLast((piece) => piece.piece > 1 && piece.entryHours < hours) ?? pieces[0];
}

/** Hours flown up to `untilHours` in each piece, in order. */
export function hoursByPiece({ pieces }: WholeLife, untilHours: number): number[] {
  return pieces.map((piece, k) => {
    const from = k === 0 ? 0 : piece.entryHours;
    const to = pieces[k + 1]?.entryHours ?? Number.POSITIVE_INFINITY;
    return Math.max(0, Math.min(untilHours, to) - from);
  });
}

/**
 * Numbers for aircraft, in order of first appearance. Lives without one count as of one machine among others that have one;
 * where none has, each gets a number of its own.
 */
export function aircraftOfLives(lives: readonly WholeLife[]): Int32Array {
  const { numbers } = aircraftNumbers(lives);
  return numbers.map((number, at) => (number < 0 ? at : number));
}
