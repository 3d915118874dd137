import { readFile, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { EXAMPLE, filesOf, publishExample } from "./support/example-month.ts";

const MOST_BYTES = 800_000;

describe("reports/example", { timeout: 300_000 }, () => {
  it("is what the program makes of its small fleet, byte for byte (npm run example writes it again)", async () => {
    const published = await publishExample();
    const paths = await filesOf(published);
    expect(await filesOf(EXAMPLE)).toEqual(paths);
    const differing: string[] = [];
    for (const path of paths) {
      const [made, committed] = await Promise.all([
        readFile(join(published, path)),
        readFile(join(EXAMPLE, path)),
      ]);
      if (!made.equals(committed)) differing.push(path);
    }
    expect(differing, "changed on purpose? npm run build && npm run example, and look at the diff").toEqual(
      [],
    );
    await rm(published, { recursive: true });
  });

  it("stays small enough to be read in a diff", async () => {
    const sizes = await Promise.all(
      (await filesOf(EXAMPLE)).map(async (path) => (await stat(join(EXAMPLE, path))).size),
    );
    expect(sizes.reduce((sum, size) => sum + size, 0)).toBeLessThan(MOST_BYTES);
  });
});
