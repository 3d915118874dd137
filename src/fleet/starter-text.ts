/** Small pieces of YAML text for a first fleet file. */

/** What stands where only a person can know; it is no valid value anywhere, so the file is refused until it is gone. */
export const FILL_IN = "FILL IN";

/** A text as a YAML scalar that reads back as the same text, in a flow or a block. */
export const yaml = (text: string): string =>
  /^[A-Za-z0-9](?:[A-Za-z0-9 _./*-]*[A-Za-z0-9_./*-])?$/.test(text) ? text : JSON.stringify(text);

/** A text inside a comment: it must not end the line. */
export const oneLine = (text: string): string => text.replace(/[\p{Cc}\u2028\u2029]+/gu, " ");
