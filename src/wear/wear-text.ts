/** The result of the `wear` command as lines for a person. */
import type { EstimateJson, HoursToLimitJson, WearGroupJson, WearJson } from "./wear-result.ts";

/** One block of lines a group; no trailing line end. */
export function wearText(result: WearJson): string {
  const percent = `${round(100 * result.confidence, 2)} %`;
  const blocks = result.groups.map((group) => groupText(group, percent));
  const legend = [
    `Bounds are two-sided at ${percent}. The rate is that of the average component; components differ by the spread below it.`,
    "This describes the readings given. It changes no interval: the approved maintenance data govern.",
  ];
  return [...blocks, legend.join("\n")].join("\n\n");
}

function groupText(group: WearGroupJson, percent: string): string {
  const title = `${group.group}: ${count(group.readings, "reading")} of ${count(group.components, "component")}`;
  const { intercept_mm, rate_mm_per_1000h, component_sd, measurement_sd_mm } = group;
  if (!intercept_mm || !rate_mm_per_1000h || !component_sd || measurement_sd_mm === null) {
    return `${title}\n  not fitted: ${group.why ?? "no reason given"}`;
  }
  const correlation =
    component_sd.correlation === null ? "" : `, correlation ${round(component_sd.correlation, 2)}`;
  const lines: [string, string][] = [
    ["wear rate", `${bounded(rate_mm_per_1000h, percent)} mm per 1000 h`],
    ["wear at 0 h", `${bounded(intercept_mm, percent)} mm`],
    [
      "spread (SD)",
      `rate ${digits(component_sd.rate_mm_per_1000h)} mm per 1000 h, at 0 h ${digits(component_sd.intercept_mm)} mm${correlation}`,
    ],
    ["scatter (SD)", `${digits(measurement_sd_mm)} mm of one reading about its component's line`],
  ];
  if (group.hours_to_limit) lines.push(["average line", limitText(group.hours_to_limit, percent)]);
  for (const caution of group.cautions) lines.push(["caution", caution]);
  return [title, ...lines.map(([name, text]) => `  ${name.padEnd(14)}${text}`)].join("\n");
}

function limitText(to: HoursToLimitJson, percent: string): string {
  const limit = `reaches ${digits(to.limit_mm)} mm`;
  if (to.estimate === null) return `${limit}: never (${to.why ?? "no estimate"})`;
  const bound = (hours: number | null) => (hours === null ? "no bound" : `${round(hours, 0)}`);
  return `${limit} at ${round(to.estimate, 0)} h (${percent}: ${bound(to.lower)} to ${bound(to.upper)} h); about half the components are there sooner`;
}

const bounded = (e: EstimateJson, percent: string): string =>
  `${digits(e.estimate)} (${percent}: ${digits(e.lower)} to ${digits(e.upper)})`;

const count = (n: number, noun: string): string => `${n} ${noun}${n === 1 ? "" : "s"}`;

/** Four significant digits without an exponent where that is short. */
const digits = (value: number): string => String(Number(value.toPrecision(4)));

const round = (value: number, decimals: number): string => String(Number(value.toFixed(decimals)));
