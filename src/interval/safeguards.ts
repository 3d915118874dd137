/**
 * Safeguards of an extension that this version does not have yet. While the list has an entry, the rule "safeguards"
 * fails and nothing is extended: the program fails closed.
 */
export const SAFEGUARDS_MISSING: readonly string[] = [
  "over-limit counts since the last change against a go-back number",
  "the conditions of a refused or deferred decision, checked by number",
  "the simulation study of how often an extension would be unsafe",
];
