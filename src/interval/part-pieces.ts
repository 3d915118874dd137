/**
 * The groups of a month's parts, taken one after the other by however many threads: whoever is free takes the next, so that
 * no thread waits while another has much left. Who took which doesn't show in the answers.
 */
import { type GroupAnswers, type PartLives, type PartWork, partWork } from "./part-work.ts";
import { type Turns, turns } from "./turns.ts";

/** One group: its part, and its place among the part's groups. */
export interface Piece {
  readonly part: number;
  readonly group: number;
}

/** All there is to take. Plain data: it goes to every thread. */
export interface Pieces {
  readonly parts: readonly PartLives[];
  readonly pieces: readonly Piece[];
  readonly taken: Turns;
}

export interface PieceAnswer extends Piece {
  readonly answers: GroupAnswers;
}

/** Another thread that takes pieces; who it is is decided where the program starts. */
export interface PartThread {
  /** Answers to the pieces that it took. */
  takePieces(pieces: Pieces): Promise<readonly PieceAnswer[]>;
}

/**
 * Takes pieces until none is left.
 *
 * @param workOn  a part begun, the same one each time it is asked for
 */
export function takePieces({ pieces, taken }: Pieces, workOn: (part: number) => PartWork): PieceAnswer[] {
  const answered: PieceAnswer[] = [];
  for (const at of turns(taken, pieces.length)) {
    const { part, group } = pieces[at]!;
    answered.push({ part, group, answers: workOn(part).group(group) });
  }
  return answered;
}

/** Parts, each begun when it is first asked for. */
export function partsBegun(
  parts: readonly PartLives[],
  onStage: (stage: string) => void,
): (part: number) => PartWork {
  const begun = new Map<number, PartWork>();
  return (part) => {
    const work = begun.get(part) ?? partWork(parts[part]!, onStage);
    begun.set(part, work);
    return work;
  };
}
