import { describe, expect, it } from "vitest";
import { ExportError, PublishError } from "../../src/problems.ts";
import { fileEffects } from "../../src/run/effects.ts";
import { guardedOutput, writeFailure } from "../../src/run/output-guard.ts";

describe("guardedOutput(effects, onStall, limits)", () => {
  it("reports a write that hangs, then gives it up as a PublishError", async () => {
    const messages: string[] = [];
    const stalled = { ...fileEffects, write: () => new Promise<void>(() => {}) };
    const output = guardedOutput(stalled, (message) => messages.push(message), {
      warnAfterMs: 10,
      giveUpAfterMs: 40,
    });
    const writing = output.write("/somewhere/x", "text");
    await expect(writing).rejects.toThrow(PublishError);
    await expect(writing).rejects.toThrow(/the disk or share stalls; the last publication is untouched/);
    expect(messages.join()).toContain("still waiting to write /somewhere/x");
  });

  it("gives the clearing up little time once a step was given up", async () => {
    const stalled = { ...fileEffects, write: () => new Promise<void>(() => {}) };
    const output = guardedOutput(stalled, () => {}, { warnAfterMs: 10, giveUpAfterMs: 300 });
    await expect(output.write("/x", "")).rejects.toThrow("after 0.3 s");
    await expect(output.write("/x", "")).rejects.toThrow("after 0.01 s");
  });

  it("says what to do about a full disk, and leaves other errors as they are", () => {
    const full = Object.assign(new Error("no space"), { code: "ENOSPC" });
    expect(writeFailure("write", "/x", full).message).toBe(
      "can't write /x: ENOSPC (the disk is full; free space and run again); the last publication is untouched [E-WRITE]",
    );
    const bug = new TypeError("x is not a function");
    expect(writeFailure("write", "/x", bug)).toBe(bug);
    const known = new ExportError("E-FILE-READ", "gone");
    expect(writeFailure("write", "/x", known)).toBe(known);
  });
});
