/** The watch list's chances as they were given, by bands, against the share that was found over the limit. */
import type { ChanceBand, WatchCalibration } from "../../replay/record-result.ts";
import { counted, percent, whole } from "../number-format.ts";
import type { Chart, ChartCell } from "./chart.ts";
import { onScale, plot } from "./layers.ts";
import { INK, label, panel, QUIET } from "./theme.ts";

/** "2 to 5", in per cent. */
export const bandName = ({ from, to }: Pick<ChanceBand, "from" | "to">): string =>
  `${whole(100 * from)} to ${whole(100 * to)}`;

interface BandRow {
  readonly band: string;
  readonly given: number;
  readonly found: number;
  readonly lower: number;
  readonly upper: number;
  readonly counts: string;
}

const bandRows = (bands: readonly ChanceBand[]): BandRow[] =>
  bands.flatMap((band) =>
    band.share === null || band.given === null
      ? []
      : [
          {
            band: bandName(band),
            given: 100 * band.given,
            found: 100 * band.share.estimate,
            lower: 100 * (band.share.lower ?? 0),
            upper: 100 * (band.share.upper ?? 1),
            counts: `${whole(band.over)} of ${whole(band.looks)}`,
          },
        ],
  );

/** Whether a band's mean chance lies within the bounds of what was found. */
const agrees = ({ given, lower, upper }: BandRow): boolean => given >= lower && given <= upper;

/** The chart; the calibration has at least one look. */
export function chanceBandChart({ bands, looks }: WatchCalibration, confidence: number): Chart {
  const rows = bandRows(bands);
  const within = rows.filter(agrees).length;
  const x = {
    field: "band",
    type: "ordinal",
    sort: null,
    scale: { domain: rows.map(({ band }) => band), type: "point", padding: 0.6 },
    axis: { title: "Chance given (%)", labelAngle: 0, labelOverlap: false },
  } as const;
  const y = onScale({ domain: [0, 100], nice: false }, { title: "Found over the limit (%)", tickCount: 5 });
  const within95 = `${percent(confidence)} %`;
  return {
    id: "record-watch",
    title:
      within === rows.length
        ? "Watch list: every band of chances fits what was found"
        : `Watch list: ${whole(within)} of ${counted(rows.length, "band")} of chances fit what was found`,
    spec: panel(
      [
        plot(
          rows,
          { type: "rule", stroke: INK, strokeWidth: 1.25 },
          { x, y: y("lower"), y2: { field: "upper" } },
        ),
        plot(
          rows,
          { type: "tick", orient: "horizontal", color: QUIET, thickness: 2.5, bandSize: 34 },
          { x, y: y("given") },
        ),
        plot(
          rows,
          { type: "point", shape: "circle", filled: true, size: 46, opacity: 1, fill: INK },
          { x, y: y("found") },
        ),
        ...label(rows, { dy: -9, baseline: "bottom" }, { x, y: y("upper"), text: { field: "counts" } }),
      ],
      { margin: { top: 44 } },
    ),
    alt: rows
      .map(
        (row) =>
          `Given ${row.band} %: mean ${row.given.toFixed(1)} %, found ${row.counts}, ${row.found.toFixed(1)} % (${row.lower.toFixed(1)} to ${row.upper.toFixed(1)}).`,
      )
      .join(" "),
    caption: `${counted(looks, "next look")}. Dot: share found over, with exact two-sided ${within95} bounds; bar across: mean of the chances given, which should lie within them. Numbers: found over of looks.`,
    columns: [
      { head: "Chance given (%)", name: "chance_given_percent" },
      { head: "Looks", name: "looks", decimals: 0 },
      { head: "Mean chance (%)", name: "mean_chance_percent", decimals: 2 },
      { head: "Found over", name: "found_over", decimals: 0 },
      { head: "Share (%)", name: "share_percent", decimals: 2 },
      { head: "Lower", name: "lower_percent", decimals: 2, rounding: "down" },
      { head: "Upper", name: "upper_percent", decimals: 2, rounding: "up" },
    ],
    rows: bands.map((band): ChartCell[] => [
      bandName(band),
      band.looks,
      band.given === null ? null : 100 * band.given,
      band.over,
      band.share === null ? null : 100 * band.share.estimate,
      band.share === null || band.share.lower === null ? null : 100 * band.share.lower,
      band.share === null || band.share.upper === null ? null : 100 * band.share.upper,
    ]),
  };
}
