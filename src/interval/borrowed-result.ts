/** What a thin group takes from other groups of its part. Plain data for the pages. */
import type { GroupKey } from "../records/life.ts";

export interface Borrowed {
  readonly what: "shape of lives" | "spread of rates";
  /** The groups asked to lend. */
  readonly from: readonly GroupKey[];
  /** Smallest p of the tests that nothing differs; null: no test could be made, `refused` says why. */
  readonly p: number | null;
  /** What is shared and how well it is known, in words; null where nothing was borrowed. */
  readonly found: string | null;
  /** Why nothing was borrowed; null where it was. */
  readonly refused: string | null;
  /** The group has no line of its own beside the borrowed one, so nothing may be extended on it. */
  readonly alone: boolean;
}
