/** The nearest of the words that would have been valid: what "did you mean" asks. */

/** Letters and digits only, lower case: how words are compared when somebody mistyped one. */
const skeleton = (word: string): string => word.toLowerCase().replace(/[^\p{L}\p{N}]/gu, "");

/**
 * The valid word most like `word`, or null where none is near: at most a third of its letters differ (case, spaces and
 * punctuation apart). Of two equally near the earlier one in `valid` is taken.
 */
export function nearestWord(word: string, valid: Iterable<string>): string | null {
  const wanted = skeleton(word);
  let best: string | null = null;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (const candidate of valid) {
    const other = skeleton(candidate);
    const limit = Math.ceil(Math.max(wanted.length, other.length) / 3);
    const distance = editDistance(wanted, other);
    if (distance <= limit && distance < Math.min(bestDistance, Math.max(wanted.length, other.length))) {
      best = candidate;
      bestDistance = distance;
    }
  }
  return best;
}

/**
 * Least number of letters to put in, take out, change, or swap with their neighbour to make one word the other.
 * Source: the optimal string alignment form of Damerau (1964), Communications of the ACM 7(3), 171-176.
 */
function editDistance(a: string, b: string): number {
  let twoBack: number[] = [];
  let back = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let least = Math.min(back[j]! + 1, row[j - 1]! + 1, back[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        least = Math.min(least, twoBack[j - 2]! + 1);
      }
      row.push(least);
    }
    twoBack = back;
    back = row;
  }
  return back[b.length]!;
}
