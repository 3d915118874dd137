/**
 * Which lives of a group its models see: all of them, or, in a group of very many components, those of some of its aircraft.
 *
 * The bound of a share over the limit from a thousand components is within a few per cent of its estimate, and what a model
 * assumes matters more than what forty thousand more would add; yet each costs the same again. So whole aircraft are taken, since components of one
 * are alike, in the order of a hash of their names, which has nothing to do with wear, until there are enough components.
 * Nothing is left out of what is counted, or looked at component by component: looks, finds, failures, act now, the watch
 * list, the evidence rules' counts.
 */
import { createHash } from "node:crypto";
import type { Life } from "../records/life.ts";

/**
 * @param serials  of each component number: a component without an aircraft stands for itself
 * @param most     components that the models need to see; that many, or a few more to make an aircraft whole
 * @returns the very array given where it has no more components than that
 */
export function modelledLives(
  lives: readonly Life[],
  serials: readonly string[],
  most: number,
): readonly Life[] {
  // A component that changed aircraft belongs to the first of them.
  const ownerOf = new Map<number, string>();
  for (const { component, aircraft } of lives)
    if (!ownerOf.has(component)) ownerOf.set(component, aircraft || serials[component]!);
  if (ownerOf.size <= most) return lives;
  const owned = new Map<string, number>();
  for (const owner of ownerOf.values()) owned.set(owner, (owned.get(owner) ?? 0) + 1);
  const taken = new Set<string>();
  let components = 0;
  for (const owner of byHash([...owned.keys()])) {
    if (components >= most) break;
    taken.add(owner);
    components += owned.get(owner)!;
  }
  return lives.filter(({ component }) => taken.has(ownerOf.get(component)!));
}

/** Names in the order of their SHA-256: the same on every machine, and anybody can check it. */
function byHash(names: readonly string[]): string[] {
  return names
    .map((name) => ({ name, hash: createHash("sha256").update(name, "utf8").digest("hex") }))
    .sort((a, b) => (a.hash < b.hash ? -1 : 1))
    .map(({ name }) => name);
}
