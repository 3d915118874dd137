/** Turns in memory that all threads share, so that whoever is free takes the next piece of work. Plain data. */
export type Turns = Int32Array;

/** None is taken yet. */
export const noneTaken = (): Turns => new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT));

/** Numbers from 0 to below `count` that no thread has taken, each taken when it is asked for. */
export function* turns(taken: Turns, count: number): Generator<number, void> {
  for (let turn = Atomics.add(taken, 0, 1); turn < count; turn = Atomics.add(taken, 0, 1)) yield turn;
}
