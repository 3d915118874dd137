import { defineConfig } from "vitest/config";

// A fixed time zone: no result may depend on it, and a failure should look the same on every machine.
process.env.TZ = "UTC";

export default defineConfig({
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  test: {
    // Left to itself vitest keeps one core free, which is half of a small machine.
    maxWorkers: 2,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    projects: [
      {
        extends: true,
        test: {
          name: "unit",
          include: ["tests/**/*.test.{ts,tsx}"],
          exclude: ["tests/browser/**", "tests/long/**", "tests/package/**"],
        },
      },
      // Whole runs, some against the clock: one after the other, once the rest is done.
      {
        extends: true,
        test: {
          name: "package",
          include: ["tests/package/**/*.test.ts"],
          maxWorkers: 1,
          sequence: { groupOrder: 1 },
        },
      },
      {
        extends: true,
        test: {
          name: "browser",
          include: ["tests/browser/**/*.test.ts"],
          maxWorkers: 1,
          sequence: { groupOrder: 2 },
        },
      },
      ...(process.env.ROTORWEAR_LONG
        ? [
            {
              extends: true as const,
              test: { name: "long", include: ["tests/long/**/*.test.ts"], testTimeout: 3_600_000 },
            },
          ]
        : []),
    ],
  },
});
