/**
 * Version of the reading of files, up to their texts. Raise it whenever the same bytes and settings may give other texts,
 * lines or problems than before: what earlier versions kept is then read anew. A test fails where that is forgotten.
 */
export const READING_VERSION = 1;
