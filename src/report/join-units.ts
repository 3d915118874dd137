/**
 * Numbers of a page joined to their units, so that no line ends between "10" and "%". Sentences come from many places,
 * machine files among them, with plain spaces: a page is where lines break, so a page's text is where they are joined.
 */
import { THIN } from "./number-format.ts";

/** Style and script keep their bytes, which their hashes are of; tags keep theirs. */
const APART = /(<style[^>]*>[\s\S]*?<\/style>|<script[^>]*>[\s\S]*?<\/script>|<[^>]*>)/;
const NUMBER_AND_UNIT = /(\d) (?=%|(?:h|mm|thou)(?![\p{L}\p{N}]))/gu;

/** A rendered page with its text's numbers joined to the units behind them. */
export const unitsJoined = (html: string): string =>
  html
    .split(APART)
    .map((part, at) => (at % 2 === 0 ? part.replace(NUMBER_AND_UNIT, `$1${THIN}`) : part))
    .join("");
