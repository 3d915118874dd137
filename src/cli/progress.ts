/** A progress bar for people: on a terminal only, never in a file, with --quiet or among JSON lines. */
import { SingleBar } from "cli-progress";
import type { Counting } from "../run/run-steps.ts";

export interface Progress {
  show(done: number, total: number, counting: Counting): void;
  end(): void;
}

/** What the bar says, and how many of what is counted make one on it. */
const FORMS: Readonly<Record<Counting, { readonly format: string; readonly unit: number }>> = {
  bytes: { format: "reading exports {bar} {value} of {total} MB", unit: 1_000_000 },
  months: { format: "replaying month-ends {bar} {value} of {total}", unit: 1 },
};

/** Opens a bar that appears with the first thing to show. */
export function openProgress(wanted: boolean): Progress {
  if (!wanted || !process.stderr.isTTY) return { show() {}, end() {} };
  let bar: SingleBar | null = null;
  return {
    show(done, total, counting) {
      const { format, unit } = FORMS[counting];
      const value = Math.round(done / unit);
      if (bar === null) {
        bar = new SingleBar({ format, stream: process.stderr, clearOnComplete: true, hideCursor: true });
        bar.start(Math.max(1, Math.round(total / unit)), value);
      } else bar.update(value);
    },
    end() {
      bar?.stop();
      bar = null;
    },
  };
}
