/** Threads that draw charts beside this one. Which thread draws which chart never shows in what is drawn. */
import type { TopLevelSpec } from "vega-lite";
import type { Draw, Drawing } from "../report/charts/render.ts";
import { AskedThread } from "./asked-thread.ts";

export interface DrawQuestion {
  readonly spec: TopLevelSpec;
  readonly drawing: Drawing;
}

export type DrawAnswer =
  | { readonly kind: "drawn"; readonly svg: string }
  | { readonly kind: "failed"; readonly error: Error };

export interface DrawThreads {
  readonly draw: Draw;
  close(): Promise<void>;
}

/** Charts handed to a thread before it has drawn those it has, so that it needn't wait while this one is busy. */
const AHEAD = 4;

interface Waiting {
  readonly question: DrawQuestion;
  readonly handedTo: (answer: Promise<DrawAnswer>) => void;
}

/**
 * Starts threads that draw; whoever starts them closes them. Each loads what it draws with at once.
 *
 * @param script  the built draw-worker
 */
export function drawThreads(count: number, script: URL): DrawThreads {
  const threads = Array.from(
    { length: count },
    () => new AskedThread<DrawQuestion, DrawAnswer>(script, "a drawing thread"),
  );
  const waiting: Waiting[] = [];
  const handOut = () => {
    while (waiting.length > 0) {
      const thread = threads.reduce((least, one) => (one.busy < least.busy ? one : least));
      if (thread.busy >= AHEAD) return;
      const { question, handedTo } = waiting.shift()!;
      handedTo(thread.ask(question));
    }
  };
  return {
    async draw(spec, drawing) {
      const answer = await new Promise<DrawAnswer>((handedTo) => {
        waiting.push({ question: { spec, drawing }, handedTo });
        handOut();
      }).finally(handOut);
      if (answer.kind === "failed") throw answer.error;
      return answer.svg;
    },
    close: async () => {
      await Promise.all(threads.map((thread) => thread.close()));
    },
  };
}
