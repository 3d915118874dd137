/**
 * Numbers of a page joined to their units, so that no line ends between "10" and "%". Sentences come from many places,
 * machine files among them, with plain spaces: a page is where lines break, so a page's text is where they are joined.
 */
import { THIN } from "./number-format.ts";

/** Style and script keep their bytes, which their hashes are of. */
const APART = /(<style[^>]*>[\s\S]*?<\/style>|<script[^>]*>[\s\S]*?<\/script>)/;
const NUMBER_AND_UNIT = /(\d) (?=%|(?:h|mm|thou)(?![\p{L}\p{N}]))/gu;

/** A rendered page with its text's numbers joined to the units behind them. */
export const unitsJoined = (html: string): string =>
  html
    .split(APART)
    .map((part, at) => (at % 2 === 0 ? joined(part) : part))
    .join("");

/** Tags keep their bytes. The few numbers with a unit are asked whether they stand in one, not each tag for its numbers. */
const joined = (markup: string): string =>
  markup.replace(NUMBER_AND_UNIT, (found, digit: string, at: number) =>
    markup.lastIndexOf("<", at) > markup.lastIndexOf(">", at) ? found : `${digit}${THIN}`,
  );
