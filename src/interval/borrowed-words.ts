/** What a thin group borrowed, or why it did not, in sentences for the officer's page. */
import type { GroupKey } from "../records/life.ts";
import type { Borrowed } from "./borrowed-result.ts";

const namesOf = (from: readonly GroupKey[]): string =>
  from.map(({ environment, standard }) => `${environment} ${standard}`).join(", ");

const pText = (p: number): string => (p < 0.001 ? "under 0.001" : `${Number(p.toPrecision(2))}`);

/** For "what is not known": what rests on other groups, from which, and the test that let it. */
export function borrowedSentence({ what, from, p, found, refused }: Borrowed): string {
  const asked = what === "shape of lives" ? "shape of the life line" : "spread of rates";
  if (refused !== null) {
    const tested = p === null ? "" : ` (p ${pText(p)})`;
    return `Too thin by itself, this group could not borrow the ${asked} from ${namesOf(from)}: ${refused}${tested}.`;
  }
  const tested = `no test says that they differ (least p ${pText(p ?? 1)})`;
  return what === "shape of lives"
    ? `Beside the assumed shapes stands the one that ${namesOf(from)} have in common, ${found}: ${tested}. The worse of the two counts.`
    : `Too few components were read for a wear bound of their own: spread of rates and scatter are borrowed from ${namesOf(from)} (${found}); ${tested}. Only the mean rate is this group's, wear is taken as straight and rates as lognormal. Nothing is extended on it.`;
}

/** For what one method says: whose shape or spread is in it; empty where none is. */
export function borrowedFrom(borrowed: readonly Borrowed[], what: Borrowed["what"]): string {
  const lent = borrowed.find((each) => each.what === what && each.refused === null);
  if (lent === undefined) return "";
  const names = namesOf(lent.from);
  return what === "shape of lives"
    ? ` Beside the shapes assumed for so few, that of ${names} is tried; the worse counts.`
    : ` Spread of rates and scatter are taken from ${names}.`;
}

/** For the answer itself: what it rests on besides the group; empty where nothing that is borrowed stands alone. */
export function borrowedClause(borrowed: readonly Borrowed[]): string {
  const alone = borrowed.find((each) => each.refused === null && each.alone);
  return alone === undefined
    ? ""
    : ` Its wear bounds borrow the spread of rates from ${namesOf(alone.from)}; the mean rate is its own.`;
}
