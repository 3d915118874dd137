/** The answer of `rotorwear life` as a person reads it: an aligned table a group, and one plain line. */
import type { ComparisonJson } from "./compare-groups.ts";
import type { LifeGroupJson, LifeResultJson, NaiveJson, WeibullJson } from "./life-result.ts";

/** @returns lines of plain text, ending in a line break */
export function lifeText(result: LifeResultJson): string {
  const percent = `${numberText(result.confidence * 100)} %`;
  const blocks = result.groups.map((group) => groupText(group, percent));
  const note = `Bounds are two-sided likelihood-ratio bounds at ${percent} confidence; hours are flight hours.`;
  if (result.comparison !== undefined) blocks.push(comparisonText(result.comparison));
  return `${blocks.join("\n\n")}\n\n${note}\n`;
}

function comparisonText({ against, ratios, common_shape, log_rank }: ComparisonJson): string {
  const lines = [`Groups against ${against}, which has most lives:`];
  for (const each of ratios) lines.push(`  ${each.sentence ?? `${each.group}: no ratio, ${each.why}.`}`);
  if (common_shape !== null) {
    const { shape, chi_squared, degrees_of_freedom, p } = common_shape;
    lines.push(
      `  One shape for all: ${numberText(shape)}; against a shape for each: chi-squared ${numberText(chi_squared)} on ${degrees_of_freedom}, p ${numberText(p)}.`,
    );
  }
  if (log_rank !== null) {
    const { chi_squared, degrees_of_freedom, p } = log_rank;
    lines.push(
      `  Log-rank test of equal lives: chi-squared ${numberText(chi_squared)} on ${degrees_of_freedom}, p ${numberText(p)}.`,
    );
  }
  return lines.join("\n");
}

function groupText(group: LifeGroupJson, percent: string): string {
  const title = group.group === "all" ? "All lives" : group.group;
  const counts = countsText(group);
  const lines = [`${title}: ${counts}`];
  if (group.weibull === null) {
    lines.push(`  No Weibull life: ${group.why ?? "it could not be fitted"}.`);
    if (group.zero_events !== undefined) lines.push(`  ${group.zero_events.sentence}`);
  } else {
    lines.push(
      "",
      ...table(weibullRows(group.weibull, percent)),
      "",
      `  ${plainLine(group, group.weibull, percent)}`,
    );
  }
  const [best] = group.alternatives;
  if (best !== undefined && group.weibull !== null && best.family !== "weibull") {
    const weibull = group.alternatives.find((each) => each.family === "weibull")!;
    const by = (weibull.aic - best.aic).toFixed(1);
    lines.push(`  By AIC the ${best.family} fits better than the Weibull (${by} lower).`);
  }
  for (const caution of group.cautions ?? []) lines.push(`  ${caution}`);
  if (group.naive !== undefined) lines.push("", ...naiveLines(group.naive));
  return lines.join("\n");
}

/** What shortcuts would have said; every one of them wrong, by as much as it says. */
function naiveLines(naive: readonly NaiveJson[]): string[] {
  if (naive.length === 0)
    return ["  No shortcut would have changed anything: every life is exact or running, from new."];
  return ["  Shortcuts, and by how much they mislead:", ...naive.map(({ sentence }) => `  - ${sentence}`)];
}

function countsText(group: LifeGroupJson): string {
  const parts = [
    [group.exact, "exact"],
    [group.interval, "between two looks"],
    [group.left, "before the first look"],
  ] as const;
  const events = parts.filter(([count]) => count > 0).map(([count, kind]) => `${count} ${kind}`);
  const total = group.exact + group.interval + group.left;
  const detail = events.length === 0 ? "" : ` (${events.join(", ")})`;
  return `${group.lives} ${group.lives === 1 ? "life" : "lives"}, ${total} ${total === 1 ? "event" : "events"}${detail}, ${group.running} still running`;
}

function weibullRows(weibull: WeibullJson, percent: string): string[][] {
  const bound = (value: number | null) => (value === null ? "no bound" : numberText(value));
  return [
    ["", "unit", "estimate", "std. error", `lower ${percent}`, `upper ${percent}`],
    ...(["shape", "scale"] as const).map((name) => [
      `Weibull ${name}`,
      name === "scale" ? "h" : "-",
      numberText(weibull[name].estimate),
      numberText(weibull[name].standard_error),
      bound(weibull[name].lower),
      bound(weibull[name].upper),
    ]),
    ...weibull.lives_at.map((life) => [
      `${numberText(life.fraction * 100)} % life`,
      "h",
      numberText(life.hours),
      "",
      bound(life.lower),
      bound(life.upper),
    ]),
  ];
}

function table(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0]!.map((_, i) => Math.max(...rows.map((row) => row[i]!.length)));
  return rows.map((row) => {
    const cells = row.map((cell, i) => (i < 2 ? cell.padEnd(widths[i]!) : cell.padStart(widths[i]!)));
    return `  ${cells.join("  ")}`.trimEnd();
  });
}

/** One line in words: the 10 % life with its bounds, and what the shape says. */
function plainLine(group: LifeGroupJson, weibull: WeibullJson, percent: string): string {
  const life = weibull.lives_at.find((each) => each.fraction === 0.1)!;
  const lower = life.lower === null ? "0" : numberText(life.lower);
  const upper = life.upper === null ? "with no upper bound" : `to ${numberText(life.upper)} h`;
  const range = `${percent}: ${lower}${life.upper === null ? " h" : ""} ${upper}`;
  const { shape } = weibull;
  const trend =
    shape.lower !== null && shape.lower > 1
      ? "the risk grows with hours (wearing out)"
      : shape.upper !== null && shape.upper < 1
        ? "the risk falls with hours"
        : "whether the risk grows with hours can't be told from these lives";
  const events = group.exact + group.interval + group.left;
  const thin = events < 10 ? ` With ${events} events this is thin: read the bounds, not the estimate.` : "";
  return `By ${numberText(life.hours)} h one in ten has had the event (${range}); ${trend}.${thin}`;
}

/** Four significant digits, plainly written. */
export function numberText(value: number): string {
  if (value === 0) return "0";
  const size = Math.abs(value);
  if (size >= 1e9 || size < 1e-4) return value.toExponential(3);
  const rounded = Number(value.toPrecision(4));
  const decimals = Math.max(0, 3 - Math.floor(Math.log10(Math.abs(rounded))));
  const text = size >= 1000 ? value.toFixed(0) : rounded.toFixed(decimals);
  return text.includes(".") ? text.replace(/\.?0+$/, "") : text;
}
