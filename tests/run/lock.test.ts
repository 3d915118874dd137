import { createHash } from "node:crypto";
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

  it("lets one of many that start at once take a dead run's lock", async () => {
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
    const won = results.flatMap((result) => (result.status === "fulfilled" ? [result.value] : []));
    expect(won).toHaveLength(1);
    await won[0]!.lock.assertHeld();
    for (const result of results)
      if (result.status === "rejected") expect(String(result.reason)).toContain("E-LOCKED");
    expect(await readdir(folder)).toEqual([".lock"]);
  });

  it("never moves a lock that another run took over in between", async () => {
    const folder = await makeFolder();
    const path = join(folder, ".lock");
    await writeFile(path, lockText({ pid: 2 ** 22 + 1, host: fileEffects.host, process: null }));
    const live = lockText({
      pid: process.pid,
      host: fileEffects.host,
      process: fileEffects.identityOf(process.pid),
    });
    const overtaken: Effects = {
      ...quick,
      createNew: async (file, content) => {
        const made = await fileEffects.createNew(file, content);
        if (made && file !== path) await writeFile(path, live);
        return made;
      },
      remove: async (file) => {
        expect(file).not.toBe(path);
        await fileEffects.remove(file);
      },
    };
    await expect(take(folder, overtaken)).rejects.toThrow(/still running/);
    expect(await readFile(path, "utf8")).toBe(live);
    expect(await readdir(folder)).toEqual([".lock"]);
  });

  it.each([
    ["that died", { pid: 2 ** 22 + 2, host: fileEffects.host, process: null }],
    ["that died before it could say who it was", null],
  ])("goes on where a run %s had begun to take it over", async (_, claimant) => {
    const folder = await makeFolder();
    const dead = lockText({ pid: 2 ** 22 + 1, host: fileEffects.host, process: null });
    await writeFile(join(folder, ".lock"), dead);
    const claim = `.lock-${createHash("sha256").update(dead).digest("hex").slice(0, 12)}`;
    await writeFile(join(folder, claim), claimant === null ? "" : lockText(claimant));
    const { lock } = await take(folder);
    await lock.assertHeld();
    expect(await readdir(folder)).toEqual([".lock"]);
  });

  it("leaves it to a living run that is about to take it over, and refuses one on another host", async () => {
    const folder = await makeFolder();
    const dead = lockText({ pid: 2 ** 22 + 1, host: fileEffects.host, process: null });
    await writeFile(join(folder, ".lock"), dead);
    const claim = join(folder, `.lock-${createHash("sha256").update(dead).digest("hex").slice(0, 12)}`);
    const living = { pid: process.pid, process: fileEffects.identityOf(process.pid) };
    await writeFile(claim, lockText({ ...living, host: fileEffects.host }));
    await expect(take(folder)).rejects.toThrow(/changes hands faster than it can be taken/);
    await writeFile(claim, lockText({ ...living, host: "elsewhere" }));
    await expect(take(folder)).rejects.toThrow(/\.lock-\w+ is held by .* on elsewhere.*delete that file/);
    expect(await readFile(join(folder, ".lock"), "utf8")).toBe(dead);
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
