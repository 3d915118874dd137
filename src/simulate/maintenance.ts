/**
 * The maintenance itself, simulated: a fleet flies, its parts wear, people look, write down and replace.
 *
 * Pure and seeded: the same settings and seed give the same rows. The truth comes from simulating wear, gauge and
 * people event by event, never from the formulas that the program decides with.
 */
import { seededRandom } from "../math/random.ts";
import { type Flying, simulateFlying } from "./flying.ts";
import { simulatePart } from "./part-simulation.ts";
import type { PartRecord } from "./rows.ts";
import type { MaintenanceSettings } from "./settings.ts";

export interface MaintenanceRecord {
  readonly flying: Flying;
  /** One for each part of the settings, in their order. */
  readonly parts: readonly PartRecord[];
}

/** Simulate a fleet. The first part's rates say which aircraft are worst, where rings are retrofitted. */
export function simulateMaintenance(settings: MaintenanceSettings, seed: number): MaintenanceRecord {
  const [rated] = settings.parts;
  if (rated === undefined) throw new Error("simulateMaintenance needs at least one part");
  const flying = simulateFlying(settings.flying, rated, seededRandom(streamSeed(seed, 0)));
  const parts = settings.parts.map((part, index) =>
    simulatePart(flying, part, (aircraft) => seededRandom(streamSeed(streamSeed(seed, index + 1), aircraft))),
  );
  return { flying, parts };
}

/**
 * A seed for stream number `stream` of a seed: neighbouring seeds must give unrelated streams, and the generator's
 * first draws from neighbouring states are alike. (The 32-bit finalizer of MurmurHash3, from memory.)
 */
export function streamSeed(seed: number, stream: number): number {
  let bits = (Math.imul(seed, 0x9e3779b1) + Math.imul(stream + 1, 0x85ebca6b)) | 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return bits ^ (bits >>> 16);
}
