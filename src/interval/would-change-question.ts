/** What is asked about other settings, and from what it is answered. */
import type { Fleet, Task } from "../fleet/fleet.ts";
import type { Day } from "../units.ts";
import type { GroupEvidence, Lines } from "./evidence.ts";
import type { RiskAtInterval } from "./month-result.ts";

export interface WouldChangeQuestion {
  readonly fleet: Fleet;
  readonly task: Task;
  readonly evidence: GroupEvidence;
  readonly lines: Lines;
  readonly risks: readonly RiskAtInterval[];
  readonly asOf: Day;
  readonly presentH: number;
  /** Longest interval that is demonstrated as things are; null: none. */
  readonly longestH: number | null;
}
