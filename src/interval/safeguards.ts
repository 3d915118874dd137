/**
 * Safeguards of an extension that this version does not compute yet. While the list has an entry, the rule "safeguards"
 * fails and nothing is extended: the program fails closed.
 */
export const SAFEGUARDS_MISSING: readonly string[] = [
  "life bounds widened for components of one aircraft",
  "bounds calibrated by simulation where components or events are few",
  "the unsafe-at risk under accelerating wear, and under a two-part mixture of rates",
  "over-limit counts since the last change against a go-back number",
];
