/** Draws charts in a thread of its own, for draw-threads.ts. Started from the built output. */
import { parentPort } from "node:worker_threads";
import { drawChart, loadDrawing } from "../report/charts/render.ts";
import type { DrawAnswer, DrawQuestion } from "./draw-threads.ts";

const answered = ({ spec, drawing }: DrawQuestion): Promise<DrawAnswer> =>
  drawChart(spec, drawing).then(
    (svg) => ({ kind: "drawn", svg }),
    (error: Error) => ({ kind: "failed", error }),
  );

/** One after the other, so that answers come in the order of the questions. */
let last = Promise.resolve();
parentPort?.on("message", (question: DrawQuestion) => {
  last = last.then(async () => parentPort?.postMessage(await answered(question)));
});

// While nobody asks yet. A failure here is thrown again by the first drawing.
loadDrawing().catch(() => {});
