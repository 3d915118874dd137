/** Charts of a table's command, as one SVG file. */
import { writeFile } from "node:fs/promises";
import { PublishError } from "../problems.ts";
import type { Chart } from "../report/charts/chart.ts";
import { standaloneSvg } from "../report/charts/standalone-svg.ts";
import { systemErrorCode } from "../run/effects.ts";

/** Throws PublishError (exit 5) where the file can't be written. */
export async function writeSvg(path: string, charts: readonly Chart[]): Promise<void> {
  const text = await standaloneSvg(charts);
  try {
    await writeFile(path, text);
  } catch (error) {
    const code = systemErrorCode(error);
    if (code === null) throw error;
    throw new PublishError("E-WRITE", `${path}: the chart can't be written (${code})`);
  }
}
