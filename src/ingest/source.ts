/** Where exports come from: the one door between reading and the file system, so that tests can read from memory. */

export interface ExportSource {
  /**
   * Paths that the patterns match, relative to the source's root, with "/" between folders, each once, in code-unit order.
   * Throws ExportError E-NO-FILE where a pattern matches nothing, E-OUTSIDE where one leads out of the root.
   */
  list(patterns: readonly string[]): Promise<readonly string[]>;
  /** The bytes of one of these paths. Throws ExportError E-FILE-READ (unreadable, a folder, changed while being read). */
  open(path: string): AsyncIterable<Uint8Array>;
}
