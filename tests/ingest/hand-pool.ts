/** A pool without threads: blocks go in turn to as many readers, each answering only once it is waited for. */
import type { BlockPool } from "../../src/ingest/block-pool.ts";
import { BlockRefused } from "../../src/ingest/block-pool.ts";
import { BlockReader } from "../../src/ingest/block-reader.ts";

/** Counts the blocks that were read. */
export function handPool(readers: number): BlockPool & { blocks: number } {
  const known = new Map<string, BlockReader>();
  let files = 0;
  return {
    blocks: 0,
    atOnce: 2 * readers,
    openFile: () => files++,
    async read(file, { setup, bytes, encoding, linesBefore }) {
      const key = `${file} ${this.blocks++ % readers}`;
      const reader = known.get(key) ?? new BlockReader(setup);
      known.set(key, reader);
      try {
        return { piece: reader.read(bytes, encoding, linesBefore), reader };
      } catch (error) {
        throw new BlockRefused(String(error));
      }
    },
    closeFile() {},
    close: async () => {},
  };
}
