import { UsageError } from "../problems.ts";
import type { Effects } from "./effects.ts";

/** Reads the fleet file as bytes. Throws UsageError where it can't be read. */
export async function readFleetFile(effects: Effects, path: string): Promise<Uint8Array> {
  try {
    return await effects.read(path);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new UsageError("E-FLEET-READ", `${path}: expected a fleet file that can be read, got: ${why}`);
  }
}
