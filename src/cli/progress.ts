/** A progress bar for people: on a terminal only, never in a file, with --quiet or among JSON lines. */
import { SingleBar } from "cli-progress";

export interface Progress {
  show(doneBytes: number, totalBytes: number): void;
  end(): void;
}

const BYTES_PER_MB = 1_000_000;

/** Opens a bar that appears with the first thing to show. */
export function openProgress(wanted: boolean): Progress {
  if (!wanted || !process.stderr.isTTY) return { show() {}, end() {} };
  const format = "reading exports {bar} {value} of {total} MB";
  const bar = new SingleBar({ format, stream: process.stderr, clearOnComplete: true, hideCursor: true });
  let started = false;
  return {
    show(doneBytes, totalBytes) {
      const done = Math.round(doneBytes / BYTES_PER_MB);
      if (started) bar.update(done);
      else bar.start(Math.max(1, Math.round(totalBytes / BYTES_PER_MB)), done);
      started = true;
    },
    end() {
      if (started) bar.stop();
      started = false;
    },
  };
}
