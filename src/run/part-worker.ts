/** Answers groups of parts in a thread of its own, for part-threads.ts. Started from the built output. */
import { parentPort } from "node:worker_threads";
import { partsBegun, takePieces } from "../interval/part-pieces.ts";
import { livesAt } from "../records/life-view.ts";
import type { PartReply, PostedPieces } from "./part-threads.ts";
import { toldError } from "./told-error.ts";

const reply = (told: PartReply): void => parentPort?.postMessage(told);

parentPort?.on("message", ({ parts, ...posted }: PostedPieces) => {
  try {
    const pieces = { ...posted, parts: parts.map((part) => ({ ...part, lives: livesAt(part.lives) })) };
    // How long its stages take is this thread's own affair: the log tells of the thread that leads.
    reply({
      kind: "answers",
      answers: takePieces(
        pieces,
        partsBegun(pieces.parts, () => {}),
      ),
    });
  } catch (error) {
    reply({ kind: "failed", ...toldError(error) });
  }
});
