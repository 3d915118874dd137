/** Reads blocks of lines in a thread of its own, for block-threads.ts. Started from the built output. */
import { parentPort } from "node:worker_threads";
import type { BlockAnswer, BlockMessage } from "./block-messages.ts";
import { buffersOf } from "./block-messages.ts";
import { BlockReader } from "./block-reader.ts";

/** One reader for each file that is under way: it knows the texts of the blocks that came before. */
const readers = new Map<number, BlockReader>();

function answer(message: Extract<BlockMessage, { kind: "read" }>): BlockAnswer {
  const { file, setup, bytes, encoding, linesBefore } = message;
  const reader = readers.get(file) ?? new BlockReader(setup);
  readers.set(file, reader);
  try {
    return { kind: "piece", piece: reader.read(bytes, encoding, linesBefore) };
  } catch (error) {
    return { kind: "refused", why: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
}

parentPort?.on("message", (message: BlockMessage) => {
  if (message.kind === "close file") {
    readers.delete(message.file);
    return;
  }
  const told = answer(message);
  parentPort?.postMessage(told, told.kind === "piece" ? buffersOf(told.piece) : []);
});
