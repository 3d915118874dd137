/** `rotorwear verify`: is a published month what its inputs give? */
import { EXIT } from "../problems.ts";
import { fileEffects } from "../run/effects.ts";
import { guardedOutput } from "../run/output-guard.ts";
import { thisProgram } from "../run/program.ts";
import { stages } from "../run/real-stages.ts";
import { verifyMonth } from "../run/verify.ts";
import type { Terminal } from "./terminal.ts";

/** Says whether the month comes out the same, or the first difference (exit 6). */
export async function verifyCommand(
  path: string,
  options: { readonly json?: boolean },
  terminal: Terminal,
): Promise<number> {
  const output = guardedOutput(fileEffects, (message) => terminal.note("warning", message));
  const found = await verifyMonth(output, stages, thisProgram(), path);
  for (const remark of found.remarks) terminal.note("warning", remark);
  if (options.json) terminal.result(JSON.stringify({ schema: "rotorwear/verify/1", ...found }, null, 2));
  else if (found.kind === "same") {
    terminal.result(
      `${found.folder}: recomputed from its kept inputs, ${found.files} files, every byte the same`,
    );
  }
  if (found.kind === "same") return EXIT.done;
  terminal.note("error", `${found.folder} differs: ${found.first} [E-VERIFY]`);
  return EXIT.verifyDiffers;
}
