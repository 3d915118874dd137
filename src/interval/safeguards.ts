/**
 * Safeguards of an extension that this version does not have yet. While the list has an entry, the rule "safeguards"
 * fails and nothing is extended: the program fails closed.
 */
export const SAFEGUARDS_MISSING: readonly string[] = [
  "the simulation study of how often an extension would be unsafe",
];
