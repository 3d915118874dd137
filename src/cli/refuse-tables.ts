/** Commands that look into rows have nothing to look into where a fleet starts from tables of lives and sums. */
import type { Fleet } from "../fleet/fleet.ts";
import { UsageError } from "../problems.ts";

/** Throws UsageError (exit 2) where the fleet file names tables in place of the wear export. */
export function refuseTables(fleet: Fleet, fleetFile: string, command: "check" | "trace"): void {
  if (fleet.tables === undefined) return;
  throw new UsageError(
    "E-FLEET",
    `${fleetFile}: expected a wear export for ${command}, got tables of lives and sums: the rows behind them are where they were made; report takes them as they are`,
  );
}
