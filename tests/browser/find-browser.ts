/** A Chromium-like browser on this machine, for tests that need one. */
import { accessSync, constants } from "node:fs";
import { delimiter, join } from "node:path";

const NAMES = [
  "chromium",
  "chromium-browser",
  "google-chrome",
  "google-chrome-stable",
  "microsoft-edge",
  "msedge",
];

/** How to get one where there is none. */
export const HOW_TO_INSTALL =
  "No Chromium found, so the browser tests are skipped: apt-get install -y chromium";

/** Path of the first one found in PATH, or null. */
export function findBrowser(): string | null {
  for (const folder of (process.env.PATH ?? "").split(delimiter)) {
    for (const name of NAMES) {
      const path = join(folder, name);
      try {
        accessSync(path, constants.X_OK);
        return path;
      } catch {
        // Not here: try the next.
      }
    }
  }
  return null;
}
