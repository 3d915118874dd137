import { describe, expect, it } from "vitest";
import { figuresBy } from "../../../src/report/charts/figures.ts";
import { drawInTurn } from "../../../src/report/charts/render.ts";
import { renderMonth } from "../../../src/report/render-month.ts";
import { makeMonth } from "../../support/make-month.ts";
import { everyChart } from "./every-chart.ts";

describe("figuresBy(draw)", () => {
  it("draws a chart once, however often it is shown", async () => {
    const [one, other] = everyChart();
    const drawn: string[] = [];
    const figure = figuresBy(async (_, { prefix, alt }) => `<svg>${drawn.push(prefix)} ${alt}</svg>`);
    const figures = await Promise.all([figure(one!), figure(other!, "numbers.csv"), figure(one!)]);
    expect(drawn).toEqual([one!.id, other!.id]);
    expect(figures.map(({ svg }) => svg[5])).toEqual(["1", "2", "1"]);
    expect(figures.map(({ csvName }) => csvName)).toEqual([undefined, "numbers.csv", undefined]);
  });
});

describe("renderMonth(month, draw)", () => {
  it("has every chart drawn once, before it waits for any", async () => {
    const asked: string[] = [];
    let answer = (): void => {};
    const answered = new Promise<void>((resolve) => {
      answer = resolve;
    });
    const rendering = renderMonth(makeMonth(), async (_, { prefix }) => {
      asked.push(prefix);
      await answered;
      return `<svg id="${prefix}"></svg>`;
    });
    const begun = asked.length;
    answer();
    await rendering;
    // Twenty-seven on the trends' page, and those that only an interval's page shows.
    expect(begun).toBeGreaterThan(27);
    expect(asked).toHaveLength(begun);
    expect(new Set(asked).size).toBe(begun);
  });
});

describe("drawInTurn()", () => {
  it("fails what comes after a chart that failed too: the run is lost", async () => {
    const draw = drawInTurn();
    const { spec } = everyChart()[0]!;
    const asked = [draw(spec, { prefix: "1", alt: "" }), draw(spec, { prefix: "a", alt: "" })];
    const ends = await Promise.allSettled(asked);
    expect(ends.map(({ status }) => status)).toEqual(["rejected", "rejected"]);
  });
});
