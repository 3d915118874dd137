import { afterAll, describe, expect, it } from "vitest";
import { drawChart } from "../../src/report/charts/render.ts";
import { drawThreads } from "../../src/run/draw-threads.ts";
import { withDrawing } from "../../src/run/drawing-means.ts";
import { everyChart } from "../report/charts/every-chart.ts";

// Threads run the built output, which `npm test` makes first.
const SCRIPT = new URL("../../dist/run/draw-worker.js", import.meta.url);
const charts = everyChart().filter((_, at) => at % 3 === 0);

describe("drawThreads(count, script)", () => {
  const threads = drawThreads(2, SCRIPT);
  afterAll(() => threads.close());

  it("draws the same bytes as this thread, whoever draws and in whatever order", async () => {
    const drawn = await Promise.all(
      charts.map(({ spec, id, alt }) => threads.draw(spec, { prefix: id, alt })),
    );
    for (const [at, { spec, id, alt }] of charts.entries())
      expect(drawn[at]).toBe(await drawChart(spec, { prefix: id, alt }));
  });

  it("fails a chart with what this thread would say of it, and draws the next", async () => {
    const { spec, id, alt } = charts[0]!;
    const bad = { ...spec, layer: [{ data: { values: [{ x: 1 }] }, mark: "no such mark", encoding: {} }] };
    const here = await drawChart(bad as unknown as typeof spec, { prefix: id, alt }).catch((error) => error);
    const there = await threads
      .draw(bad as unknown as typeof spec, { prefix: id, alt })
      .catch((error) => error);
    expect(here).toBeInstanceOf(Error);
    expect(there.message).toBe(here.message);
    expect(there.stack.split("\n")[0]).toBe(here.stack.split("\n")[0]);
    await expect(threads.draw(spec, { prefix: id, alt })).resolves.toMatch(/^<svg /);
  });

  it("fails what is asked of a thread that can't start, instead of waiting for it", async () => {
    const broken = drawThreads(1, new URL("../../dist/run/no-such-worker.js", import.meta.url));
    const { spec, id, alt } = charts[0]!;
    const asked = Array.from({ length: 7 }, () => broken.draw(spec, { prefix: id, alt }));
    for (const one of await Promise.allSettled(asked)) expect(one.status).toBe("rejected");
    await broken.close();
  });
});

describe("withDrawing(context, work)", () => {
  const started: number[] = [];
  let closed = 0;
  const close = async () => {
    closed += 1;
  };
  const stages = {
    drawingThreads: (count: number) => {
      started.push(count);
      return { draw: drawChart, close };
    },
  };

  it("starts no thread where there is to be one only", async () => {
    expect(await withDrawing({ options: { threads: 1 }, stages }, async (draw) => draw)).toBeUndefined();
    expect(started).toEqual([]);
  });

  it("ends its threads, also where the work fails", async () => {
    expect(await withDrawing({ options: { threads: 4 }, stages }, async (draw) => draw)).toBe(drawChart);
    const failing = withDrawing({ options: { threads: 2 }, stages }, () => Promise.reject(new Error("no")));
    await expect(failing).rejects.toThrow("no");
    expect(started).toEqual([2, 2]);
    expect(closed).toBe(2);
  });
});
