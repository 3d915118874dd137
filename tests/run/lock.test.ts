import { mkdtemp, readdir, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { PublishError } from "../../src/problems.ts";
import { type Effects, fileEffects } from "../../src/run/effects.ts";
import { takeLock } from "../../src/run/lock.ts";

const quick: Effects = { ...fileEffects, pause: async () => {} };
const makeFolder = () => mkdtemp(join(tmpdir(), "rotorwear-lock-"));
const lockText = (lock: Record<string, unknown>) =>
  JSON.stringify({ started: "2026-01-01T00:00:00Z", ...lock });

async function take(folder: string, effects: Effects = quick) {
  const messages: string[] = [];
  const lock = await takeLock(effects, folder, (message) => messages.push(message));
  return { lock, messages };
}

describe("takeLock(effects, outFolder, onMessage)", () => {
  it("names its holder, refuses a second run while the first lives, and is gone when released", async () => {
    const folder = await makeFolder();
    const { lock } = await take(folder);
    expect(JSON.parse(await readFile(join(folder, ".lock"), "utf8"))).toMatchObject({ pid: process.pid });
    await expect(take(folder)).rejects.toThrow(PublishError);
    await expect(take(folder)).rejects.toThrow(/still running; run again when it has ended \[E-LOCKED\]/);
    await lock.release();
    expect(await readdir(folder)).toEqual([]);
  });

  it("takes over a lock of a dead process on this host, and says so", async () => {
    const folder = await makeFolder();
    await writeFile(
      join(folder, ".lock"),
      lockText({ pid: 2 ** 22 + 1, host: fileEffects.host, process: null }),
    );
    const { messages } = await take(folder);
    expect(messages.join()).toMatch(/took over .*\.lock, left by process 4194305, which is dead/);
  });

  it("takes over a lock whose process number belongs to another process by now", async () => {
    const folder = await makeFolder();
    const lock = { pid: process.pid, host: fileEffects.host, process: "an-earlier-boot:1" };
    await writeFile(join(folder, ".lock"), lockText(lock));
    expect((await take(folder)).messages).toHaveLength(1);
  });

  it("refuses a lock of another host, and says what to do", async () => {
    const folder = await makeFolder();
    await writeFile(join(folder, ".lock"), lockText({ pid: 1, host: "elsewhere", process: null }));
    await expect(take(folder)).rejects.toThrow(/process 1 on elsewhere.*delete that file and run again/);
  });

  it.each(["", "{", "[1]", '{"pid":"1"}'])("takes over a lock left half-written: %j", async (text) => {
    const folder = await makeFolder();
    await writeFile(join(folder, ".lock"), text);
    expect((await take(folder)).messages.join()).toContain("a run that left it unfinished");
  });

  it("lets one of many that start at once publish: a lock moved away for a moment may be taken, but not held, twice", async () => {
    const folder = await makeFolder();
    await writeFile(
      join(folder, ".lock"),
      lockText({ pid: 2 ** 22 + 1, host: fileEffects.host, process: null }),
    );
    // Each has a number of its own, as separate processes would; all of them count as alive.
    const runs = Array.from({ length: 8 }, (_, index) => ({
      ...quick,
      pid: 9_000_000 + index,
      isAlive: (pid: number) => pid >= 9_000_000,
      identityOf: (pid: number) => String(pid),
    }));
    const results = await Promise.allSettled(runs.map((effects) => take(folder, effects)));
    const won = results.filter((result) => result.status === "fulfilled");
    expect(won.length).toBeGreaterThan(0);
    const held = await Promise.allSettled(won.map(({ value }) => value.lock.assertHeld()));
    expect(held.filter(({ status }) => status === "fulfilled")).toHaveLength(1);
    const refused = held.flatMap((result) => (result.status === "rejected" ? [String(result.reason)] : []));
    for (const why of refused) expect(why).toContain("taken by another run meanwhile; nothing was published");
  });

  it("gives back a lock that another run took over in between", async () => {
    const folder = await makeFolder();
    const path = join(folder, ".lock");
    await writeFile(path, lockText({ pid: 2 ** 22 + 1, host: fileEffects.host, process: null }));
    const live = lockText({
      pid: process.pid,
      host: fileEffects.host,
      process: fileEffects.identityOf(process.pid),
    });
    let renames = 0;
    const overtaken: Effects = {
      ...quick,
      rename: async (from, to) => {
        if (renames++ === 0) await writeFile(path, live);
        await fileEffects.rename(from, to);
      },
    };
    await expect(take(folder, overtaken)).rejects.toThrow(/still running/);
    expect(await readFile(path, "utf8")).toBe(live);
  });

  it("notices before publishing that another run has taken the folder", async () => {
    const folder = await makeFolder();
    const { lock } = await take(folder);
    await writeFile(join(folder, ".lock"), lockText({ pid: 1, host: "elsewhere", process: null }));
    await expect(lock.assertHeld()).rejects.toThrow(/taken by another run meanwhile; nothing was published/);
    await lock.release();
    expect(await readdir(folder)).toEqual([".lock"]);
  });
});
