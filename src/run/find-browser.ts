/** A Chromium-like browser on this machine: only those print a page as PDF from the command line. */
import { constants } from "node:fs";
import { access } from "node:fs/promises";
import { delimiter, join } from "node:path";

const NAMES = [
  "chromium",
  "chromium-browser",
  "google-chrome",
  "google-chrome-stable",
  "chrome",
  "microsoft-edge",
  "microsoft-edge-stable",
  "msedge",
];

/** Where installers put them, when not in PATH; relative to the programs' folder of the system. */
const ON_MAC = [
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
  "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
];
const ON_WINDOWS = ["Google/Chrome/Application/chrome.exe", "Microsoft/Edge/Application/msedge.exe"];
const WINDOWS_FOLDERS = ["PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA"];

/** The first one that can be run, in PATH before anywhere else; null where there is none. */
export async function findBrowser(
  environment: Readonly<Record<string, string | undefined>>,
  platform: NodeJS.Platform = process.platform,
): Promise<string | null> {
  for (const path of candidates(environment, platform)) {
    const usable = await access(path, constants.X_OK).then(
      () => true,
      () => false,
    );
    if (usable) return path;
  }
  return null;
}

function candidates(
  environment: Readonly<Record<string, string | undefined>>,
  platform: NodeJS.Platform,
): string[] {
  const suffix = platform === "win32" ? ".exe" : "";
  const inPath = (environment.PATH ?? environment.Path ?? "")
    .split(delimiter)
    .filter((folder) => folder !== "")
    .flatMap((folder) => NAMES.map((name) => join(folder, name + suffix)));
  if (platform === "darwin") return [...inPath, ...ON_MAC];
  if (platform !== "win32") return inPath;
  const folders = WINDOWS_FOLDERS.map((name) => environment[name]).filter((folder) => folder !== undefined);
  return [...inPath, ...folders.flatMap((folder) => ON_WINDOWS.map((path) => join(folder, path)))];
}
