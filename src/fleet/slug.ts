/** Names for files and anchors made from any text. */

const LONGEST = 80;

/** The text in lower-case ASCII letters and digits with single hyphens; "group" where nothing is left of it. */
export function slug(text: string): string {
  const ascii = text
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .slice(0, LONGEST)
    .replace(/^-|-$/g, "");
  return ascii === "" ? "group" : ascii;
}

/**
 * A slug for each text, no two alike. Texts whose plain slugs collide get a suffix made from the text itself, so that a
 * group keeps its file name from month to month whatever else is there.
 */
export function slugs(texts: readonly string[]): ReadonlyMap<string, string> {
  const distinct = [...new Set(texts)];
  const users = new Map<string, number>();
  for (const text of distinct) users.set(slug(text), (users.get(slug(text)) ?? 0) + 1);
  const taken = new Set<string>();
  const named = new Map<string, string>();
  for (const text of distinct) {
    const plain = slug(text);
    const wanted = users.get(plain) === 1 ? plain : `${plain}-${fingerprint(text)}`;
    let free = wanted;
    for (let i = 2; taken.has(free); i++) free = `${wanted}-${i}`;
    taken.add(free);
    named.set(text, free);
  }
  return named;
}

/** Eight hex digits of a text: FNV-1a over its UTF-16 units (Fowler, Noll and Vo; 32 bits). */
function fingerprint(text: string): string {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return (hash >>> 0).toString(16).padStart(8, "0");
}
